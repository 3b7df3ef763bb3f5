// Which reading of a removal test is at odds with all others that have its element on the line.
#include <algorithm>
#include <cmath>

#include "line/variant.hpp"
#include "report/strip_readings.hpp"

namespace airtally::report {
namespace {

using hunt::Beside;

bool same_dial(const Beside& a, const Beside& b) {
  const bool loose = a.instrument == hunt::Instrument::plugged;  // the same gauge, wherever it is
  return a.instrument == b.instrument && (a.at == b.at || loose) && a.tips == b.tips;
}

/// What the step is compared with, off by as much as the instrument itself: read less predicted [Pa] or [A].
double own_error(const Beside& suspect) { return suspect.read - suspect.predicted - suspect.surprise; }

}  // namespace

std::optional<Misread> misread_of(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all) {
  constexpr double nothing = 0.25;  ///< of what would show; no source
  const std::optional<std::size_t> first = all.worst ? all.worst : all.spared;
  if (!first || !is_gauge(all.list[*first].instrument)) return std::nullopt;
  const Beside& suspect = all.list[*first];
  const std::size_t element = strip.steps[suspect.step].cap;
  const line::Topology topology = line::topology(line);
  Misread found{*first, 0};
  for (const Beside& b : all.list) {
    if (b.step == suspect.step || !same_dial(b, suspect) || suspect.predicted <= 0.0) continue;
    if (line::cap(line, topology, strip.steps[b.step].cap).index[element] == line::none) continue;
    // With more air coming in elsewhere there is less vacuum to drive a leak, and it shows less.
    const double shows = std::fabs(suspect.surprise) * std::clamp(b.predicted / suspect.predicted, 0.0, 1.0);
    if (nothing * shows < 3.0 * std::sqrt(2.0) * b.noise) continue;
    if (std::fabs(b.read - b.predicted - own_error(suspect)) > nothing * shows) return std::nullopt;
    ++found.against;
  }
  return found.against > 0 ? std::optional(found) : std::nullopt;
}

}  // namespace airtally::report
