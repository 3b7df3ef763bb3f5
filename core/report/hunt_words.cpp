#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/hunt_text.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using hunt::Hunt;
using hunt::Instrument;
using hunt::NextTest;

constexpr double small = 0.02;  ///< of the tip's vacuum: what costs less than that is no finding

std::string value(Instrument instrument, double si, const Look& look) {
  if (is_gauge(instrument)) return vacuum_scale(look, 20e3).text(si);
  return instrument == Instrument::current ? current_scale().text(si) : flow(si);
}

std::string percent(double share) { return share > 0.995 ? "over 99 %" : fmt::format("{:.0f} %", 100.0 * share); }

std::vector<std::string> names(const line::Line& line, const std::vector<std::size_t>& elements) {
  std::vector<std::string> all;
  for (std::size_t i : elements) all.push_back(the(line.elements[i]));
  return all;
}

/// A stretch of readings as it is told.
struct Told {
  hunt::Outcome outcome;
  std::vector<std::size_t> elements;  ///< that it speaks for, one or two; none: no one, it may clear some
};

/// Stretches that speak for no one, or hardly more for one than for another, are one to the reader where they clear the
/// same elements.
std::vector<Told> merged(const std::vector<hunt::Outcome>& outcomes) {
  constexpr double no_one = 0.5, hardly = 0.75;
  std::vector<Told> all;
  for (const hunt::Outcome& outcome : outcomes) {
    const bool speaks = outcome.probability >= no_one;
    const bool same = !all.empty() && all.back().outcome.cleared == outcome.cleared &&
                      all.back().outcome.probability < hardly && outcome.probability < hardly;
    if (!same) {
      all.push_back({outcome, {}});
      if (speaks) all.back().elements = {outcome.element};
      continue;
    }
    Told& told = all.back();
    told.outcome.high = outcome.high;
    const bool another = std::find(told.elements.begin(), told.elements.end(), outcome.element) == told.elements.end();
    if (!speaks || told.elements.empty() || (another && told.elements.size() == 2))
      told.elements.clear();
    else if (another)
      told.elements.push_back(outcome.element);
    const double chance = told.outcome.chance + outcome.chance;
    told.outcome.probability =
        (told.outcome.chance * told.outcome.probability + outcome.chance * outcome.probability) / chance;
    told.outcome.chance = chance;
  }
  return all;
}

}  // namespace

std::string dial_name(const line::Line& line, const hunt::Dial& dial) {
  const std::string at = the(line.elements[dial.at]);
  return dial.instrument == Instrument::vacuum    ? "the gauge at " + at
         : dial.instrument == Instrument::plugged ? "the gauge in the plug"
         : dial.instrument == Instrument::current ? "the ammeter of " + at
                                                  : "the flow into " + at;
}

std::string set_aside_sentence(const hunt::Impossible& aside) {
  const Position& where = aside.reading.where;
  return "Set aside: " + (where.line > 0 ? to_string(where) + ": " : std::string()) + aside.sentence;
}

std::string test_sentence(const line::Line& line, const NextTest& test, const Look& look) {
  std::string text;
  if (test.setting.cap) {
    const line::Element& cap = line.elements[*test.setting.cap];
    const bool nozzle = cap.kind == line::Kind::nozzle;
    text = test.standing ? "Leave the line as it is, " : "";
    text += test.standing ? (nozzle ? the(cap) + " blocked" : "capped behind " + the(cap))
            : nozzle      ? "Block " + the(cap)
                          : "Cap the line behind " + the(cap);
    if (test.setting.hole > 0.0)
      text += fmt::format(" with the plate that has a {} hole", units::show(test.setting.hole, "mm", 1));
    if (test.effort > 0.0)
      text += fmt::format(" ({})", counted(static_cast<std::size_t>(std::lround(test.effort)), "joint"));
  } else {
    text = "Leave the line whole " + state_phrase(test.setting.tips);
  }
  if (test.setting.tips.size() > 1 && test.setting.cap) text += " " + state_phrase(test.setting.tips);
  if (test.standing && test.setting.cap) text += ',';
  std::vector<std::string> dials;
  for (const hunt::Dial& dial : test.dials)
    dials.push_back(fmt::format("{} ({}about {})", dial_name(line, dial), dials.empty() ? "expect " : "",
                                value(dial.instrument, dial.expected, look)));
  return text + " and read " + listed(dials) + ".";
}

std::string outcomes_sentence(const line::Line& line, const NextTest& test, const Look& look) {
  std::string text;
  const Instrument read = test.dials.front().instrument;
  const std::vector<Told> outcomes = merged(test.information.outcomes);
  for (std::size_t k = 0; k < outcomes.size(); ++k) {
    const hunt::Outcome& outcome = outcomes[k].outcome;
    const std::vector<std::size_t>& elements = outcomes[k].elements;
    const std::string low = value(read, outcome.low, look), high = value(read, outcome.high, look);
    // A gauge that is out may show less than nothing, but no one reads for that.
    const std::string stretch = outcome.low > 0.0 ? fmt::format("{} to {}", low, high) : fmt::format("below {}", high);
    const std::string where = outcomes.size() == 1 || !test.rivals.empty() ? stretch
                              : k == 0                                     ? fmt::format("below {}", high)
                              : k + 1 == outcomes.size()                   ? fmt::format("above {}", low)
                                                                           : stretch;
    if (elements.empty() && outcome.cleared.empty()) continue;
    std::string means;
    if (elements.size() == 1)
      means = fmt::format("{}, {}", the(line.elements[elements.front()]), percent(outcome.probability));
    else if (elements.size() == 2)
      means = fmt::format("{} or {}", the(line.elements[elements[0]]), the(line.elements[elements[1]]));
    if (!outcome.cleared.empty())
      means += fmt::format("{}{} {} cleared", means.empty() ? "" : "; ", listed(names(line, outcome.cleared)),
                           outcome.cleared.size() == 1 ? "is" : "are");
    text += fmt::format("{}{}: {}.", text.empty() ? "" : " ", capital(where), means);
  }
  if (text.empty() && test.rivals.empty() && !outcomes.empty())
    return "Whatever it shows, no one element is likely yet; but it narrows the search.";
  if (test.dials.size() > 1 && !text.empty()) text = "By " + dial_name(line, test.dials.front()) + " alone: " + text;
  if (!test.rivals.empty()) {
    const std::string other =
        test.rivals.size() == 1 ? the(line.elements[test.rivals.front()]) : std::string("one of the others");
    text += text.empty() ? "It would speak for " + other + "." : " Anything else: " + other + ".";
  }
  return text;
}

std::string look_alikes_sentence(const line::Line& line, const Hunt& hunt, const hunt::LookAlikes& group,
                                 const Look& look) {
  std::string text = "Look-alikes: " + listed(names(line, group.elements)) + ".";
  const bool next = group.test && hunt::further_test(hunt) && group.test->setting == hunt.next.front().setting;
  if (next) return text + " The next test tells them apart.";
  if (group.test) return text + " To tell them apart: " + test_sentence(line, *group.test, look);
  return hunt.with_plug_gauge ? text : text + " No test on this line would tell them apart; take them off one by one.";
}

std::string dead_end(const line::Line& line, const Hunt& hunt, const Look& look) {
  if (hunt.with_plug_gauge)
    return "No further test with the instruments of this line would tell much more. A loose gauge in the plug would: " +
           test_sentence(line, *hunt.with_plug_gauge, look);
  if (hunt::verdict(hunt) == hunt::Verdict::sure || hunt.prior_only)
    return "No further test on this line would tell much more.";
  return fmt::format(
      "No further test on this line would tell much more. Take {} out, or put a good one in its place, and see what "
      "the tip gains.",
      the(line.elements[hunt.elements.front().element]));
}

namespace {

/// What a verdict leaves open: elements that no reading had on the line, which may cost as much and more.
std::string left_open(const line::Line& line, const Hunt& hunt) {
  std::vector<std::size_t> untested;
  for (const hunt::Finding& finding : hunt.elements)
    if (finding.only_prior && finding.cost.high > 0.0) untested.push_back(finding.element);
  if (untested.empty()) return "";
  std::sort(untested.begin(), untested.end());
  return fmt::format(" No reading had {} on the line, so what {} costs is only by the file: read once more with {} on.",
                     listed(names(line, untested)), untested.size() == 1 ? "it" : "each",
                     untested.size() == 1 ? "it" : "them");
}

/// Another reading of the same that is far from it; "" where there is none.
std::string disagrees(const Hunt& hunt, const hunt::Reading& reading, const Look& look) {
  for (const hunt::Compared& other : hunt.readings) {
    const hunt::Reading& r = other.reading;
    if (!(r.setting == reading.setting) || r.instrument != reading.instrument || r.at != reading.at) continue;
    // The prediction is the same for both, so half of what parts them is a misfit of each.
    if (std::fabs(r.value - reading.value) <= std::fabs(hunt.quality.worst_misfit)) continue;
    return fmt::format("Of the same setting {} has {}: take both again. ",
                       r.where.line > 0 ? to_string(r.where) : std::string("another"),
                       value(r.instrument, r.value, look));
  }
  return "";
}

/// What may be at fault all the same.
std::string not_shown(const line::Line& line, const Hunt& hunt) {
  if (hunt.hidden.empty()) return "";
  const std::vector<std::string> all = names(line, hunt.hidden);
  const std::string where = all.size() == 1  ? all.front()
                            : all.size() < 5 ? "any of " + listed(all)
                                             : fmt::format("any of {} other elements", all.size());
  return fmt::format(" A fault in {} would not have shown yet.", where);
}

/// Who it is, or what stands between.
std::string who(const line::Line& line, const Hunt& hunt, const Look& look) {
  const hunt::Finding& first = hunt.elements.front();
  const line::Element& e = line.elements[first.element];
  if (hunt.prior_only)
    return fmt::format(
        "Nothing was read yet: what follows is only what is common for such a line. {} is then the worst "
        "with {}.",
        The(e), percent(first.worst_probability));
  std::string text;
  if (hunt.quality.bad && hunt.quality.worst) {
    const hunt::Compared& worst = hunt.readings.at(*hunt.quality.worst);
    text = fmt::format(
        "The line file can't explain these readings ({}). The one that fits worst is {}: read {}, and the "
        "best fit gives {}. Check that reading, and the file, before believing the rest. ",
        hunt.quality.chance < 1e-6 ? std::string("not by one chance in a million")
                                   : fmt::format("chance {:.1g}", hunt.quality.chance),
        worst.reading.where.line > 0 ? to_string(worst.reading.where) : std::string("the last"),
        value(worst.reading.instrument, worst.reading.value, look),
        value(worst.reading.instrument, worst.reading.value + hunt.quality.worst_misfit, look));
    text += disagrees(hunt, worst.reading, look);
  }
  const std::string cost = fmt::format("it costs the tip {} ({} to {})", vacuum(look, first.cost.median),
                                       vacuum(look, first.cost.low), vacuum(look, first.cost.high));
  if (first.cost.high < small * 50e3)
    return text +
           fmt::format("Nothing is much wrong: the worst element is most likely {} ({}), and {}.", the(e),
                       percent(first.worst_probability), cost) +
           not_shown(line, hunt);
  if (first.only_prior)
    return text + fmt::format("The likeliest is {} with {}, but only by the file: no reading had it on the line yet.",
                              the(e), percent(first.worst_probability));
  switch (hunt::verdict(hunt)) {
    case hunt::Verdict::sure:
      return text + fmt::format("It is {}: {} sure, and {}.", the(e), percent(first.worst_probability), cost);
    case hunt::Verdict::rivalled:
      return text + fmt::format(
                        "It is most likely {} ({}), and {}; but that rests on where such faults usually are: a "
                        "fault in {}{} would explain these readings too. {}",
                        the(e), percent(first.worst_probability), cost, hunt.rivals.size() == 1 ? "" : "any of ",
                        listed(names(line, hunt.rivals)),
                        hunt::further_test(hunt) ? "A test that parts them makes sure."
                                                 : "No reading that this line has an instrument for parts them.");
    case hunt::Verdict::unexplained:
      return text + fmt::format("If they are right, it is {}, and {}; that is no verdict yet.", the(e), cost);
    case hunt::Verdict::unsettled:
      return text + fmt::format("It looks like {}, and {}; but the samples do not agree well enough for a verdict.",
                                the(e), cost);
    case hunt::Verdict::unsure:
      break;
  }
  if (!hunt.hidden.empty())
    return text +
           fmt::format("What was read is as it should be, by and large: the worst is most likely {} ({}), and {}.",
                       the(e), percent(first.worst_probability), cost) +
           not_shown(line, hunt);
  if (!hunt.look_alikes.empty())
    return text + fmt::format("These readings can't tell {} apart; the likeliest is {} with {}.",
                              listed(names(line, hunt.look_alikes.front().elements)), the(e),
                              percent(first.worst_probability));
  return text + fmt::format("The likeliest is {} with {}, and {}; not yet sure.", the(e),
                            percent(first.worst_probability), cost);
}

}  // namespace

std::string hunt_verdict(const line::Line& line, const Hunt& hunt, const Look& look) {
  std::string text = who(line, hunt, look);
  if (hunt.elements.front().cost.high < small * 50e3) return text;  // nothing is much wrong
  text += not_as_filed(line, hunt, look);
  return hunt::verdict(hunt) == hunt::Verdict::sure ? text + left_open(line, hunt) : text;
}

}  // namespace airtally::report
