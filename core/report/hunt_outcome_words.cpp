// What a test's reading would mean.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/hunt_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/words.hpp"

namespace airtally::report {

using hunt::Hunt;
using hunt::NextTest;

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

/// The next reading of a display with such steps that is not below, or not above, a value; the value itself where the
/// steps are not known. Both in one unit.
double shown_from(double value, double step) { return step > 0.0 ? step * std::ceil(value / step - 1e-6) : value; }
double shown_to(double value, double step) { return step > 0.0 ? step * std::floor(value / step + 1e-6) : value; }

/// Which readings a stretch is, of a display with such steps.
std::string which(const std::vector<Told>& outcomes, std::size_t k, const NextTest& test, const Look& look) {
  const hunt::Dial& dial = test.dials.front();
  const hunt::Outcome& outcome = outcomes[k].outcome;
  const auto text = [&](double si) { return value(dial.instrument, si, look); };
  const bool ends = outcomes.size() > 1 && test.rivals.empty();
  const auto below = [&] { return "below " + text(shown_from(outcome.high, dial.step)); };
  if (ends && k == 0) return below();
  if (ends && k + 1 == outcomes.size()) return "above " + text(shown_to(outcome.low, dial.step));
  // A gauge that is out may show less than nothing, but no one reads for that.
  if (outcome.low <= 0.0) return below();
  const double from = shown_from(outcome.low, dial.step), to = shown_to(outcome.high, dial.step);
  if (from < to) return fmt::format("{} to {}", text(from), text(to));
  return "about " +
         text(from > to ? shown_from(0.5 * (outcome.low + outcome.high) - 0.5 * dial.step, dial.step) : from);
}

}  // namespace

std::string outcomes_sentence(const line::Line& line, const Hunt& hunt, const NextTest& test, const Look& look) {
  std::string text;
  const std::vector<Told> outcomes = merged(test.information.outcomes);
  for (std::size_t k = 0; k < outcomes.size(); ++k) {
    const hunt::Outcome& outcome = outcomes[k].outcome;
    const std::vector<std::size_t>& elements = outcomes[k].elements;
    if (elements.empty() && outcome.cleared.empty()) continue;
    std::string means;
    if (elements.size() == 1)
      means = fmt::format("{}, {}", the(line.elements[elements.front()]), percent(outcome.probability));
    else if (elements.size() == 2)
      means = fmt::format("{} or {}", the(line.elements[elements[0]]), the(line.elements[elements[1]]));
    if (!outcome.cleared.empty())
      means += fmt::format("{}{} {} cleared", means.empty() ? "" : "; ", listed(names(line, hunt, outcome.cleared)),
                           outcome.cleared.size() == 1 ? "is" : "are");
    text += fmt::format("{}{}: {}.", text.empty() ? "" : " ", capital(which(outcomes, k, test, look)), means);
  }
  if (text.empty() && test.rivals.empty() && !outcomes.empty())
    return "Whatever it shows, no one element is likely yet; but it narrows the search.";
  // Before the first reading beliefs have one fault each; what is common and by design is not in them.
  const std::string if_one = hunt.prior_only ? "if a single fault is to blame" : "";
  const std::string by = test.dials.size() > 1 ? "by " + dial_name(line, test.dials.front()) + " alone" : "";
  if (const std::string premise = if_one + (if_one.empty() || by.empty() ? "" : ", ") + by;
      !premise.empty() && !text.empty())
    text = capital(premise) + ": " + text;
  if (!test.rivals.empty()) {
    const std::string other =
        test.rivals.size() == 1 ? the(line.elements[test.rivals.front()]) : std::string("one of the others");
    text += text.empty() ? "It would speak for " + other + "." : " Anything else: " + other + ".";
  }
  return text;
}

}  // namespace airtally::report
