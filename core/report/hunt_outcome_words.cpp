// What a test's reading would mean.
#include <fmt/format.h>

#include <algorithm>

#include "report/hunt_text.hpp"
#include "report/hunt_words_private.hpp"
#include "report/words.hpp"

namespace airtally::report {

using hunt::Hunt;
using hunt::Instrument;
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

}  // namespace

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

}  // namespace airtally::report
