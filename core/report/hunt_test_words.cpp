// What a test is, what its reading would mean, and what it is good for.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "hunt/readings/cut.hpp"
#include "line/topology.hpp"
#include "report/hunt_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/words.hpp"
#include "units/unit.hpp"

namespace airtally::report {

using hunt::Hunt;
using hunt::Instrument;
using hunt::NextTest;

std::string value(Instrument instrument, double si, const Look& look) {
  if (is_gauge(instrument)) return vacuum_scale(look, 20e3).text(si);
  return instrument == Instrument::current ? current_scale().text(si) : flow(si);
}

std::string percent(double share) { return share > 0.995 ? "over 99 %" : fmt::format("{:.0f} %", 100.0 * share); }

namespace {

/// A stretch of readings as it is told.
struct Told {
  hunt::Outcome outcome;
  std::vector<std::size_t> elements;  ///< that it speaks for, one or two; none: no one, it may clear some
};

/// Stretches that speak for no one, or hardly more for one than for another, are one to the reader where they clear the
/// same elements.
std::vector<Told> merged(const std::vector<hunt::Outcome>& outcomes) {
  constexpr double hardly = 0.75;
  std::vector<Told> all;
  for (const hunt::Outcome& outcome : outcomes) {
    const bool speaks = hunt::names_one(outcome);
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
    told.outcome.samples += outcome.samples;
  }
  return all;
}

/// The diameter by which a plate is told from its neighbours in a set, three digits and no zeros behind them: "0.4 mm",
/// "0.125 mm".
std::string plate_size(double hole) {
  return fmt::format("{:.3g} mm", units::from_si(hole, *units::find_unit("mm", units::Dimension::length)));
}

/// What is on the tips that the cap leaves on the line, after a space; "" where it leaves none.
std::string others_phrase(const line::Line& line, const hunt::Setting& setting) {
  const std::vector<std::size_t> index = hunt::cut(line, line::topology(line, false), setting).index;
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  std::vector<solve::TipState> states;
  for (std::size_t k = 0; k < std::min(nozzles.size(), setting.tips.size()); ++k)
    if (nozzles[k] != *setting.cap && index[nozzles[k]] != line::none) states.push_back(setting.tips[k]);
  if (states.empty()) return "";
  if (states.size() == nozzles.size()) return fmt::format(" {}", state_phrase(states));
  const std::string of = line.elements[*setting.cap].kind == line::Kind::nozzle ? "other tip" : "tip left";
  const std::string_view shared = word(states);
  if (shared == "mixed") return fmt::format(" {}", state_phrase(states));
  return shared == "part" ? fmt::format(" with a part on every {}", of) : fmt::format(" with every {} {}", of, shared);
}

}  // namespace

std::string dial_name(const line::Line& line, const hunt::Dial& dial) {
  const std::string at = the(line.elements[dial.at]);
  return dial.instrument == Instrument::vacuum    ? "the gauge at " + at
         : dial.instrument == Instrument::plugged ? "the gauge in the plug"
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
      text += fmt::format(" with the plate that has a {} hole", plate_size(test.setting.hole));
    if (test.effort > 0.0)
      text += fmt::format(" ({})", counted(static_cast<std::size_t>(std::lround(test.effort)), "joint"));
  } else {
    text = "Leave the line whole " + state_phrase(test.setting.tips);
  }
  if (test.setting.tips.size() > 1 && test.setting.cap) text += others_phrase(line, test.setting);
  if (test.standing && test.setting.cap) text += ',';
  std::vector<std::string> dials;
  for (const hunt::Dial& dial : test.dials)
    dials.push_back(fmt::format("{} ({}about {})", dial_name(line, dial), dials.empty() ? "expect " : "",
                                value(dial.instrument, dial.expected, look)));
  return text + " and read " + listed(dials) + ".";
}

std::string outcomes_sentence(const line::Line& line, const Hunt& hunt, const NextTest& test, const Look& look) {
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
      means += fmt::format("{}{} {} cleared", means.empty() ? "" : "; ", listed(names(line, hunt, outcome.cleared)),
                           outcome.cleared.size() == 1 ? "is" : "are");
    text += fmt::format("{}{}: {}.", text.empty() ? "" : " ", capital(where), means);
  }
  if (text.empty() && test.rivals.empty() && !outcomes.empty())
    return "Whatever it shows, no one element is likely yet; but it narrows the search.";
  // Before the first reading beliefs have one fault each; what is common and by design is not in them.
  const std::string if_one = hunt.prior_only ? "if a single fault is to blame" : "";
  const std::string by = test.dials.size() > 1 ? "by " + dial_name(line, test.dials.front()) + " alone" : "";
  if (const std::string where = if_one + (if_one.empty() || by.empty() ? "" : ", ") + by;
      !where.empty() && !text.empty())
    text = capital(where) + ": " + text;
  if (!test.rivals.empty()) {
    const std::string other =
        test.rivals.size() == 1 ? the(line.elements[test.rivals.front()]) : std::string("one of the others");
    text += text.empty() ? "It would speak for " + other + "." : " Anything else: " + other + ".";
  }
  return text;
}

std::string look_alikes_sentence(const line::Line& line, const Hunt& hunt, const hunt::LookAlikes& group,
                                 const Look& look) {
  std::string text = "Look-alikes: " + listed(names(line, hunt, group.elements)) + ".";
  const bool next = group.test && hunt::further_test(hunt) && group.test->setting == hunt.next.front().setting;
  const bool two = group.elements.size() == 2;  // of more than two one test rarely parts all
  if (next) return text + (two ? " The next test tells them apart." : " The next test tells most of which it is.");
  if (group.test && hunt::further_test(hunt))
    return text + (two ? " To tell them apart: " : " What tells most of which it is: ") +
           test_sentence(line, *group.test, look);
  if ((hunt.with_plug_gauge && !hunt::further_test(hunt)) || group.test) return text;
  return text + (hunt::further_test(hunt) ? " No single test tells all of them apart."
                                          : " No test on this line would tell them apart; take them off one by one.");
}

std::string loose_gauge_sentence(const line::Line& line, const Hunt& hunt, const Look& look) {
  if (!hunt.with_plug_gauge || !hunt::further_test(hunt)) return "";
  if (hunt.next.front().dials.front().instrument == Instrument::plugged) return "";  // it was asked for just now
  return "A loose gauge in the plug would tell more: " + test_sentence(line, *hunt.with_plug_gauge, look);
}

std::string dead_end(const line::Line& line, const Hunt& hunt, const Look& look) {
  if (hunt.with_plug_gauge)
    return "No further test with the instruments of this line would tell much more. A loose gauge in the plug would: " +
           test_sentence(line, *hunt.with_plug_gauge, look);
  if (hunt::verdict(hunt) == hunt::Verdict::sure || hunt.prior_only)
    return "No further test on this line would tell much more.";
  if (hunt.quality.chance < hunt::unbelievable)
    return "While the line file can't explain these readings no further test tells more. Take those again that fit "
           "worst, and see that the file has the line as it is.";
  const std::vector<hunt::Finding> amiss = hunt::amiss(hunt);
  double wrong = 0.0;  // number of elements that are amiss, as expected
  for (const hunt::Finding& finding : hunt.elements) wrong += finding.amiss;
  const bool as_filed = amiss.empty() && hunt.amiss_among.empty() && wrong < 0.5 &&
                        std::none_of(hunt.elements.begin(), hunt.elements.end(),
                                     [&](const hunt::Finding& finding) { return hunt::off_file(hunt, finding); });
  if (as_filed)
    return "No further test on this line would tell much more, and what was read is as the file has it, by and large: "
           "there is nothing to mend yet.";
  const auto among = std::find_if(hunt.elements.begin(), hunt.elements.end(), [&](const hunt::Finding& finding) {
    return std::find(hunt.amiss_among.begin(), hunt.amiss_among.end(), finding.element) != hunt.amiss_among.end();
  });
  const std::size_t suspect = !amiss.empty()                 ? amiss.front().element
                              : among != hunt.elements.end() ? among->element
                                                             : hunt.elements.front().element;
  return fmt::format(
      "No further test on this line would tell much more. Take {} out, or put a good one in its place, and see what "
      "the tip gains.",
      the(line.elements[suspect]));
}

}  // namespace airtally::report
