// The top of the page: what a reader has to know after one minute.
#include <algorithm>

#include "hunt/judgement.hpp"
#include "report/hunt_text.hpp"
#include "report/outage_text.hpp"
#include "report/page/sections.hpp"
#include "report/safe_side.hpp"
#include "report/trial.hpp"
#include "report/verdicts.hpp"
#include "report/words.hpp"

namespace airtally::report::page {
namespace {

/// What stands before a sentence that knows nothing of the readings.
const std::string by_file = "By the line file alone: ";

struct Fact {
  std::string name;
  std::function<std::string(const Look&)> value;
};

/// The few numbers that the verdict is about.
std::vector<Fact> facts(const Findings& found) {
  const study::Ranking& ranking = found.ranking;
  const bool shut = valve_to_open(ranking).has_value();
  // All that the pump has stays behind a valve that is shut, and no element costs it.
  const double lost = shut ? ranking.source_vacuum - ranking.tip_vacuum : ranking.total_loss;
  const double top = std::max({ranking.ideal_vacuum, ranking.tip_vacuum, lost});
  const auto vacuum = [top](double pa) {
    return [top, pa](const Look& look) { return vacuum_scale(look, top).text(pa); };
  };
  std::vector<Fact> all{{"the tip has", vacuum(ranking.tip_vacuum)}};
  if (found.hold) all.push_back({"the part needs", vacuum(found.hold->tips.at(found.hold->weakest).needed_vacuum)});
  all.push_back({"lost on the way", vacuum(lost)});
  all.push_back({"settles in", [&found](const Look&) {
                   return found.rise.final_vacuum < study::least_vacuum ? "too little vacuum" : time(found.rise.settle);
                 }});
  // A pick works the valves by its own times, and so says nothing of a tip behind one that is shut.
  if (found.cycle && !shut) {
    const auto& safe = found.cycle->heads.at(found.cycle->slowest).safe_lift;
    all.push_back({"may lift at", [safe](const Look&) {
                     return safe ? no_less_than(*safe, units::Dimension::time) : std::string("never");
                   }});
  }
  return all;
}

void command(Markup& out, const std::string& text) { out.element("code", text); }

/// Behind a shut valve there is nothing to prove and nothing to try: one step, to open it and to ask again.
void open_first(Markup& out, const line::Line& line, std::size_t valve, std::vector<std::string> changes) {
  const std::string state = line.elements[valve].name + ".state=";
  std::erase_if(changes, [&](const std::string& change) { return change.starts_with(state); });
  changes.push_back(state + "open");
  out.open("li").text("Open " + the(line.elements[valve]) +
                      ", on the machine and in the file; while it is shut, nothing beyond it can be judged. This asks "
                      "as if it were open: ");
  command(out, "airtally report " + typed_line(line, changes) + " -o page.html");
  out.close().close();
}

void next_steps(Markup& out, const Findings& found, const Units& units) {
  const std::string typed = typed_line(found.line, units.first().changes);
  out.open("ol", {{"class", "next"}});
  if (const auto valve = valve_to_open(found.ranking); valve && !was_read(found)) {
    open_first(out, found.line, *valve, units.first().changes);
    return;
  }
  const bool sure = found.hunt && hunt::verdict(*found.hunt) == hunt::Verdict::sure;
  if (sure) {
    const std::vector<hunt::Finding> wrong = hunt::amiss(*found.hunt);
    const hunt::Finding& first = wrong.empty() ? found.hunt->elements.front() : wrong.front();
    const line::Element& element = found.line.elements[first.element];
    const std::string mend = what_to_mend(found.line, *found.hunt);
    const bool step = mend.starts_with("Mend ");
    // Nothing is capped behind less than a source, so it makes no step.
    out.element("li",
                mend + (!step ? ""
                        : line::is_source(element.kind)
                            ? " Then read the gauge again with the same caps: every reading should be back up."
                            : " Then read the gauge again with the same caps: the step behind it should be gone."));
  }
  const bool further = found.hunt && hunt::further_test(*found.hunt);
  if (further || (found.hunt && found.hunt->with_plug_gauge)) {
    const hunt::NextTest& test = further ? found.hunt->next.front() : *found.hunt->with_plug_gauge;
    units.said(out, "li", [&](const Look& look) {
      return (further ? test_sentence(found.line, test, look) : dead_end(found.line, *found.hunt, look)) + ' ' +
             outcomes_sentence(found.line, *found.hunt, test, look);
    });
    out.open("li").text("Write the reading down and ask again: ");
    std::string files;
    for (const std::string& file : found.readings_files) files += ' ' + typed_file(file);
    command(out, "airtally report " + typed + (files.empty() ? " READINGS" : files) + " -o page.html");
    out.close();
  } else if (was_read(found)) {
    if (!sure) units.said(out, "li", [&](const Look& look) { return dead_end(found.line, *found.hunt, look); });
    out.open("li").text("See your readings beside those that the file expects, step by step: ");
    if (found.readings_files.empty()) command(out, "airtally strip " + typed + " --readings READINGS");
    for (const std::string& file : found.readings_files)
      command(out, "airtally strip " + typed + " --readings " + typed_file(file));
    out.close();
  } else {
    // The removal test is for what shows with the end blocked: `rank` says the same.
    const bool in_flow = shows_in_flow_alone(found.ranking);
    const bool bench = in_flow || !found.strip.culprit;
    out.open("li").text(
        in_flow ? "Prove it on the bench. With the end blocked no air flows and little shows: read with the tip open, "
                  "or a drilled plate at the end. This asks for such readings, one after the other, and says what they "
                  "mean: "
        : bench ? "Prove it on the bench. Capped behind one element after another no step of this line is big enough "
                  "for its instruments: this asks for readings that do show it, one after the other, and says what "
                  "they mean: "
                : "Prove it on the bench. This prints the reading to expect behind every joint, with blanks for "
                  "yours: ");
    command(out, bench ? "airtally hunt --bench " + typed_file(found.line) : "airtally strip " + typed + " --sheet");
    out.close();
    out.open("li").text("With your readings in a file, ask who it is and how sure that is: ");
    command(out, "airtally report " + typed + " READINGS -o page.html");
    out.close();
  }
  if (found.joint && found.joint->tube_wins() &&
      !(found.joint->joint && found.joint->alike(found.joint->tube, *found.joint->joint))) {
    out.open("li").text("A twisted tube in the joint's place would save time on each placement; weigh both: ");
    command(out, "airtally joint " + typed);
    out.close();
  }
  const Trial next = trial(found.line, found.ranking);
  out.open("li").text((was_read(found) ? "Before you buy or change anything, try it on the line as the file has it"
                                       : "Before you buy or change anything, try it here") +
                      std::string(next.why.empty() ? "" : ". " + next.why) + ": ");
  command(out, "airtally " + next.command + ' ' + typed + " --set \"" +
                   (next.change.empty() ? "NAME.KEY=VALUE" : next.change) + '"');
  out.close().close();
}

}  // namespace

void write_list(Markup& out, const std::vector<std::string>& sentences, std::string_view tag) {
  if (sentences.empty()) return;
  out.open(tag);
  for (const std::string& sentence : sentences) out.element("li", sentence);
  out.close();
}

void write_answer(Markup& out, const Findings& found, const Units& units) {
  out.open("section", {{"id", "answer"}, {"aria-labelledby", "answer-h"}});
  out.element("h2", "The answer", {{"id", "answer-h"}});
  const bool read = was_read(found);
  if (read) {
    units.said(out, "p", [&](const Look& look) { return hunt_verdict(found.line, *found.hunt, look); },
               {{"class", "verdict"}});
    if (!found.hunt->converged) out.element("p", rough_samples(*found.hunt), {{"class", "also"}});
  }
  units.said(out, "p",
             [&](const Look& look) { return (read ? by_file : "") + rank_verdict(found.line, found.ranking, look); },
             {{"class", read ? "also" : "verdict"}});
  if (read) out.element("p", "These numbers are by the line file alone, too:", {{"class", "also"}});
  out.open("dl", {{"class", "facts"}});
  for (const Fact& fact : facts(found)) {
    out.open("div").element("dt", fact.name);
    units.said(out, "dd", fact.value);
    out.close();
  }
  out.close();
  if (found.hold)
    units.said(out, "p",
               [&](const Look& look) { return (read ? by_file : "") + hold_verdict(found.line, *found.hold, look); },
               {{"class", "also"}});
  if (!found.outages.empty()) out.element("p", outage_sentence(found.outages), {{"class", "also"}});
  out.element("h3", "What to do next");
  next_steps(out, found, units);
  out.open("div", {{"class", "caution"}, {"role", "note"}});
  out.open("p").element("strong", "Take care. ");
  out.text(bench_cautions(found.line)).close();
  out.element(
      "p",
      "Vacuum lets go when the power fails: where a dropped part can hurt someone, vacuum alone must not hold it. "
      "Keep out of the mains; follow your local code, and leave such work to a person licensed to do it.");
  out.close().close();
}

}  // namespace airtally::report::page
