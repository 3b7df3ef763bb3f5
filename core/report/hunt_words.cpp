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
  if (instrument == Instrument::vacuum) return vacuum_scale(look, 20e3).text(si);
  return instrument == Instrument::current ? current_scale().text(si) : flow(si);
}

std::string percent(double share) { return share > 0.995 ? "over 99 %" : fmt::format("{:.0f} %", 100.0 * share); }

std::vector<std::string> names(const line::Line& line, const std::vector<std::size_t>& elements) {
  std::vector<std::string> all;
  for (std::size_t i : elements) all.push_back(the(line.elements[i]));
  return all;
}

/// Whether the stretch points at no one; it may clear some.
bool vague(const hunt::Outcome& outcome) { return outcome.probability < 0.5; }

/// Stretches that point at no one are one to the reader where they clear the same elements.
std::vector<hunt::Outcome> merged(const std::vector<hunt::Outcome>& outcomes) {
  std::vector<hunt::Outcome> all;
  for (const hunt::Outcome& outcome : outcomes) {
    if (!all.empty() && vague(all.back()) && vague(outcome) && all.back().cleared == outcome.cleared)
      all.back().high = outcome.high;
    else
      all.push_back(outcome);
  }
  return all;
}

}  // namespace

std::string dial_name(const line::Line& line, const hunt::Dial& dial) {
  const std::string at = the(line.elements[dial.at]);
  return dial.instrument == Instrument::vacuum    ? "the gauge at " + at
         : dial.instrument == Instrument::current ? "the ammeter of " + at
                                                  : "the flow into " + at;
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
  const std::vector<hunt::Outcome> outcomes = merged(test.information.outcomes);
  for (std::size_t k = 0; k < outcomes.size(); ++k) {
    const hunt::Outcome& outcome = outcomes[k];
    const std::string low = value(read, outcome.low, look), high = value(read, outcome.high, look);
    // A gauge that is out may show less than nothing, but no one reads for that.
    const std::string stretch = outcome.low > 0.0 ? fmt::format("{} to {}", low, high) : fmt::format("below {}", high);
    const std::string where = outcomes.size() == 1 || !test.rivals.empty() ? stretch
                              : k == 0                                     ? fmt::format("below {}", high)
                              : k + 1 == outcomes.size()                   ? fmt::format("above {}", low)
                                                                           : stretch;
    if (vague(outcome) && outcome.cleared.empty()) continue;
    std::string means;
    if (!vague(outcome))
      means = fmt::format("{}, {}", the(line.elements[outcome.element]), percent(outcome.probability));
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

}  // namespace

std::string hunt_verdict(const line::Line& line, const Hunt& hunt, const Look& look) {
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
        "The line file can't explain these readings (chance {:.1g}). The one that fits worst is {}: read {}, and the "
        "best fit gives {}. Check that reading, and the file, before believing the rest. ",
        hunt.quality.chance, worst.reading.where.line > 0 ? to_string(worst.reading.where) : std::string("the last"),
        value(worst.reading.instrument, worst.reading.value, look),
        value(worst.reading.instrument, worst.reading.value + hunt.quality.worst_misfit, look));
  }
  const std::string cost = fmt::format("it costs the tip {} ({} to {})", vacuum(look, first.cost.median),
                                       vacuum(look, first.cost.low), vacuum(look, first.cost.high));
  if (first.cost.high < small * 50e3)
    return text + fmt::format("Nothing is much wrong: the worst element is most likely {} ({}), and {}.", the(e),
                              percent(first.worst_probability), cost);
  if (first.only_prior)
    return text + fmt::format("The likeliest is {} with {}, but only by the file: no reading had it on the line yet.",
                              the(e), percent(first.worst_probability));
  switch (hunt::verdict(hunt)) {
    case hunt::Verdict::sure:
      return text + fmt::format("It is {}: {} sure, and {}.", the(e), percent(first.worst_probability), cost) +
             left_open(line, hunt);
    case hunt::Verdict::rivalled:
      return text + fmt::format(
                        "It is most likely {} ({}), and {}; but that rests on where such faults usually are: a "
                        "fault in {}{} would explain these readings too. A test that parts them makes sure.",
                        the(e), percent(first.worst_probability), cost, hunt.rivals.size() == 1 ? "" : "any of ",
                        listed(names(line, hunt.rivals)));
    case hunt::Verdict::unexplained:
      return text + fmt::format("If they are right, it is {}, and {}; that is no verdict yet.", the(e), cost);
    case hunt::Verdict::unsettled:
      return text + fmt::format("It looks like {}, and {}; but the samples do not agree well enough for a verdict.",
                                the(e), cost);
    case hunt::Verdict::unsure:
      break;
  }
  if (!hunt.look_alikes.empty())
    return text + fmt::format("These readings can't tell {} apart; the likeliest is {} with {}.",
                              listed(names(line, hunt.look_alikes.front().elements)), the(e),
                              percent(first.worst_probability));
  return text + fmt::format("The likeliest is {} with {}, and {}; not yet sure.", the(e),
                            percent(first.worst_probability), cost);
}

}  // namespace airtally::report
