#include "hunt/verdict/mistaken.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "hunt/fit/quality.hpp"
#include "hunt/verdict/trial_private.hpp"
#include "units/show.hpp"

namespace airtally::hunt {
namespace {

using units::show;

/// Of chi-square and priors together: twice the logarithm of twenty, and one more for a peak that is wider.
constexpr double likelier = 7.0;
constexpr double never = 1e300;
constexpr double believable = 0.01;  ///< chance that a sound line's readings miss by more

std::string where(const Reading& reading) {
  return reading.where.line > 0 ? to_string(reading.where) + ": " : std::string();
}

/// All gauges' readings turned round.
std::vector<Reading> as_absolute(const line::Line& line, std::vector<Reading> readings) {
  for (Reading& reading : readings)
    if (is_gauge(reading.instrument)) reading.value = line.site.pressure - reading.value;
  return readings;
}

bool absolute(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench,
              const std::vector<Mode>& modes) {
  double cost = 1e300;
  for (const Mode& mode : modes) cost = std::min(cost, mode.cost);
  const bool any = std::any_of(readings.begin(), readings.end(),
                               [](const Reading& reading) { return is_gauge(reading.instrument); });
  if (!any || cost < likelier) return false;
  Evidence turned(suspects, as_absolute(suspects.line, readings), bench);
  // From a sound line alone: what takes a fault to explain it is no more likely than the readings as they stand.
  const Fit fit = Trial(suspects, turned, line::none).from(std::vector<double>(suspects.unknowns.size(), 0.0));
  for (std::size_t k = 0; k < fit.x.size(); ++k)
    if (fault(suspects.unknowns[k]) && std::fabs(fit.x[k]) >= damage_onset) return false;
  return fit.sum < cost - likelier && chi_square_chance(fit.sum, static_cast<double>(readings.size())) > believable;
}

/// What a sound line would show there, systematic error left out; nothing where it can't be solved.
std::optional<double> expected(const Suspects& suspects, const Reading& reading, const Bench& bench) {
  Evidence alone(suspects, {&reading, 1}, bench);
  double residual = 0.0;
  if (!alone.evaluate(std::vector<double>(suspects.unknowns.size(), 0.0), {&residual, 1}, {})) return std::nullopt;
  return reading.value + residual * alone.noise().front();
}

}  // namespace

std::vector<std::string> mistaken(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench,
                                  const std::vector<Mode>& modes) {
  std::vector<std::string> sentences;
  for (const Reading& reading : readings) {
    if (!is_gauge(reading.instrument)) continue;
    const Meter meter = meter_at(suspects.line, bench, reading.instrument, reading.at);
    const double as_good_as_none = 0.5 * meter.accuracy + 2.0 * meter.noise();
    if (std::fabs(reading.value) > as_good_as_none) continue;
    // A small pump on a wide open tip pulls next to nothing however sound the line is.
    if (expected(suspects, reading, bench).value_or(never) < 2.0 * as_good_as_none) continue;
    sentences.push_back(where(reading) + show(reading.value, "kPa", 1) +
                        " is no vacuum at all: see that the pump runs, that the gauge's port opens into the line and "
                        "that nothing has come off, before anything else.");
    return sentences;
  }
  if (!absolute(suspects, readings, bench, modes)) return sentences;
  const auto first =
      std::find_if(readings.begin(), readings.end(), [](const Reading& r) { return is_gauge(r.instrument); });
  const double room = suspects.line.site.pressure;
  const auto vacuum = expected(suspects, *first, bench);
  const std::string would =
      vacuum ? fmt::format("; an absolute gauge on a sound line would show {} there", show(room - *vacuum, "kPa", 1))
             : std::string();
  sentences.push_back(fmt::format(
      "{}what the gauge read is just what a sound line gives in absolute pressure: {} absolute is {} of vacuum with {} "
      "in the room{}. Open its port: if it shows about what the room has and not 0, write the vacuum and ask again.",
      where(*first), show(first->value, "kPa", 1), show(room - first->value, "kPa", 1), show(room, "kPa", 1), would));
  return sentences;
}

}  // namespace airtally::hunt
