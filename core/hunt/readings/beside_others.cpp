// Readings that are no step of the removal test: drilled plates, other states of the tips. Held against the file.
#include <cmath>

#include "hunt/readings/beside_others_private.hpp"
#include "line/curves.hpp"
#include "solve/answer.hpp"

namespace airtally::hunt {

std::optional<double> filed(const line::Line& line, const Cut& left, const Reading& reading) {
  const bool loose = reading.instrument == Instrument::plugged;
  if (!is_gauge(reading.instrument) && reading.instrument != Instrument::current) return std::nullopt;
  const std::size_t at = loose && reading.setting.cap ? *reading.setting.cap : reading.at;
  if (left.index[at] == line::none) return std::nullopt;
  const double vacuum = solve::steady(left.line, left.tips).elements[left.index[at]].vacuum;
  if (is_gauge(reading.instrument)) return vacuum;
  return line::current_at(line.elements[at], line.site, line.site.pressure - vacuum);
}

std::optional<BesideOther> other_beside(const line::Line& line, const line::Topology& topology, const Bench& bench,
                                        const Reading& reading) {
  const std::optional<double> predicted = filed(line, cut(line, topology, reading.setting), reading);
  if (!predicted) return std::nullopt;
  const Meter meter = meter_at(line, bench, reading.instrument, reading.at);
  const double noise = reading.noise > 0.0 ? reading.noise : meter.noise();
  return BesideOther{reading.setting, reading.instrument, reading.at,
                     reading.value,   *predicted,         std::hypot(noise, 0.5 * meter.accuracy)};
}

double far_off(const BesideOther& other) {
  constexpr double far = 0.1;         // of what is expected: a plate's hole and a pump are sure to that; no source
  constexpr double deviations = 3.0;  // standard deviations
  const double off = std::fabs(other.read - other.predicted);
  return off > far * std::fabs(other.predicted) && off > deviations * other.deviation ? off / other.deviation : 0.0;
}

}  // namespace airtally::hunt
