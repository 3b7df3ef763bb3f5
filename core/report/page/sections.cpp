#include "report/page/sections.hpp"

#include <fmt/format.h>

#include "errors.hpp"
#include "hunt/judgement.hpp"
#include "report/hunt_text.hpp"
#include "report/said_in.hpp"
#include "report/words.hpp"

namespace airtally::report::page {
namespace {

/// A sentence of study or hunt, with what it says of vacuum in every unit.
void write_told(Markup& out, std::string_view tag, const std::string& sentence, const Units& units) {
  if (sentence.find(" kPa") == std::string::npos)
    out.element(tag, sentence);
  else
    units.said(out, tag, [&](const Look& look) { return said_in(look, sentence); });
}

void write_told(Markup& out, const std::vector<std::string>& sentences, const Units& units) {
  if (sentences.empty()) return;
  out.open("ul");
  for (const std::string& sentence : sentences) write_told(out, "li", sentence, units);
  out.close();
}

}  // namespace

std::string rough_samples(const hunt::Hunt& hunt) {
  std::vector<std::string> why;
  if (hunt.effective < hunt::fewest_effective)
    why.push_back(fmt::format("of {} samples only {:.0f} count", hunt.samples, hunt.effective));
  if (hunt.r_hat >= hunt::most_r_hat)
    why.push_back(fmt::format("they do not agree (R-hat {:.{}f})", hunt.r_hat, hunt.r_hat < 10.0 ? 2 : 0));
  if (why.empty()) why.push_back("a part of what the readings leave open was hardly sampled");
  return "Take the figures of the readings as rough: " + listed(why) +
         ". Another --seed of airtally hunt may say otherwise.";
}

void write_hunt_words(Markup& out, const Findings& found, const Units& units) {
  const hunt::Hunt& hunt = *found.hunt;
  for (const hunt::Impossible& aside : hunt.set_aside) write_told(out, "p", set_aside_sentence(aside), units);
  for (const std::string& remark : hunt.remarks) write_told(out, "p", remark, units);
  if (const std::string bores = bore_sentence(found.line, hunt); !bores.empty()) out.element("p", bores);
  if (const std::string doubts = doubts_sentence(found.line, hunt); !doubts.empty()) out.element("p", doubts);
  for (const hunt::LookAlikes& group : hunt.look_alikes)
    units.said(out, "p", [&](const Look& look) { return look_alikes_sentence(found.line, hunt, group, look); });
  if (!hunt::further_test(hunt)) {
    units.said(out, "p", [&](const Look& look) { return dead_end(found.line, hunt, look); });
    return;
  }
  if (hunt.with_plug_gauge)
    units.said(out, "p", [&](const Look& look) { return loose_gauge_sentence(found.line, hunt, look); });
  out.element("h3", "The next tests, the most telling first");
  out.open("ol");
  for (const hunt::NextTest& test : hunt.next) {
    if (test.information.bits < hunt::least_worth && &test != &hunt.next.front()) break;
    units.said(out, "li", [&](const Look& look) {
      return test_sentence(found.line, test, look) + fmt::format(" It tells {:.2f} bit.", test.information.bits);
    });
  }
  out.close();
}

void write_minded(Markup& out, const Findings& found, const Units& units) {
  std::vector<std::string> warnings, assumed;
  for (const study::Warning& warning : found.warnings) warnings.push_back(warning.sentence);
  for (const std::string& warning : found.rise.warnings) warnings.push_back(warning);
  for (const std::string& phrase : found.line.assumed) assumed.push_back(phrase);
  for (const line::Element& element : found.line.elements)
    if (!element.assumed.empty()) assumed.push_back(element.name + ": " + listed(element.assumed));
  std::vector<std::string> notes = found.ranking.notes;
  if (found.cycle) notes.insert(notes.end(), found.cycle->notes.begin(), found.cycle->notes.end());
  if (found.hold) notes.insert(notes.end(), found.hold->notes.begin(), found.hold->notes.end());
  if (found.sense) notes.insert(notes.end(), found.sense->notes.begin(), found.sense->notes.end());
  if (!warnings.empty()) out.element("h3", "Warnings");
  write_told(out, warnings, units);
  if (!assumed.empty()) out.element("h3", "Taken for granted, because the file does not say");
  write_list(out, assumed);
  if (!notes.empty()) out.element("h3", "Notes");
  write_told(out, notes, units);
  if (warnings.empty() && assumed.empty() && notes.empty()) out.element("p", "Nothing out of the ordinary.");
}

void write_how_to_read(Markup& out) {
  write_list(
      out,
      {"Vacuum is how far the pressure lies below that of the room, counted upwards: 0 is the open room.",
       "Flow and leak are litres or millilitres of free air a minute: the room the air would take at 100 kPa and 20 C.",
       "Tip vacuum is what holds the part: between nozzle and part when a part sits there or the nozzle is blocked, "
       "and just "
       "behind the nozzle when it is open.",
       "All of it is calculated from the numbers in the line file. Where it matters, confirm with a gauge.",
       "A line in a picture's key is a button: it hides or shows its curve. Drag across a picture to look closer. With "
       "the "
       "keyboard: go to a picture, move with the arrow keys, look closer with + and -, and see all of it with 0."});
}

}  // namespace airtally::report::page
