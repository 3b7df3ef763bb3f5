#include "hunt/readings/impossible.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <stdexcept>

#include "gas/air.hpp"
#include "hunt/readings/beside_others_private.hpp"
#include "units/show.hpp"

namespace airtally::hunt {
namespace {

using units::show;

/// Deepest vacuum that any source of the line can pull at its site, by the best that the file allows [Pa].
double deepest(const line::Line& line) {
  double deepest = 0.0;
  for (const line::Element& e : line.elements)
    if (e.pump && !e.pump->flow.empty()) deepest = std::max(deepest, e.pump->flow.back().vacuum.high);
  return deepest * line.site.pressure / gas::standard_pressure;
}

std::pair<double, double> ends(const std::vector<line::CurvePoint>& curve) {
  double low = 1e300, high = 0.0;
  for (const line::CurvePoint& point : curve) {
    low = std::min(low, point.value.low);
    high = std::max(high, point.value.high);
  }
  return {low, high};
}

/// What an absolute gauge would show there of the line as filed, so that the mistake can be seen; empty where that
/// can't be worked out.
std::string absolute_by_file(const line::Line& line, const Reading& reading) {
  try {
    const auto vacuum = filed(line, cut(line, line::topology(line), reading.setting), reading);
    if (!vacuum) return {};
    return fmt::format(" By the file an absolute gauge would show {} there, which is {} of vacuum.",
                       show(line.site.pressure - *vacuum, "kPa", 1), show(*vacuum, "kPa", 1));
  } catch (const std::runtime_error&) {  // no sound line when so capped, or none that can be solved
    return {};
  }
}

std::optional<std::string> vacuum_trouble(const line::Line& line, const Meter& meter, const Reading& reading) {
  const double value = reading.value;
  // Three standard deviations of the gauge, and a pump a little better than its sheet.
  const double slack = 1.5 * meter.accuracy + 3.0 * meter.noise();
  const double limit = 1.02 * deepest(line) + slack;
  const std::string read = show(value, "kPa", 1);
  if (value < -slack)
    return fmt::format(
        "{} would be pressure above ambient; write vacuum as a positive number, or check the gauge's "
        "zero.",
        read);
  if (value <= limit) return std::nullopt;
  const double meant = line.site.pressure - value;
  if (value <= 1.03 * line.site.pressure && meant > -0.03 * line.site.pressure)
    return fmt::format(
        "{} is more vacuum than the pump can pull ({}). It looks like absolute pressure taken for vacuum: with {} "
        "ambient that would be {} of vacuum.{}",
        read, show(deepest(line), "kPa", 1), show(line.site.pressure, "kPa", 1), show(std::max(meant, 0.0), "kPa", 1),
        absolute_by_file(line, reading));
  return fmt::format("{} is more vacuum than the pump can pull ({}); check the unit and the gauge.", read,
                     show(deepest(line), "kPa", 1));
}

std::optional<std::string> current_trouble(const line::Element& source, const Meter& meter, double value) {
  const auto [low, high] = ends(source.pump->current);
  const double slack = 1.5 * meter.accuracy + 3.0 * meter.noise();
  if (value >= 0.9 * low - slack && value <= 1.1 * high + slack) return std::nullopt;
  const bool amperes = 1e3 * value >= 0.9 * low && 1e3 * value <= 1.1 * high;
  return fmt::format("{} is outside what the file says {} draws ({} to {}): {}",
                     show(value, "mA", value < 10e-3 ? 3 : 0), source.name, show(low, "mA", 0), show(high, "mA", 0),
                     amperes ? "that would be its current in A, not in mA."
                             : "another supply voltage, a stalled motor, or something else on the same supply.");
}

std::optional<std::string> flow_trouble(const line::Element& source, const Meter& meter, double value) {
  const double most = source.pump->flow.front().value.high * source.pump->speed.high;
  if (value >= -3.0 * meter.noise() && value <= 1.5 * most) return std::nullopt;
  if (value < 0.0) return std::string("a flow towards the pump is a positive number; this one is negative.");
  return fmt::format("{} is more than the pump takes with nothing connected ({}); check the unit.",
                     show(value, "L/min", 2), show(most, "L/min", 2));
}

}  // namespace

std::vector<Impossible> set_aside_impossible(const line::Line& line, const Bench& bench,
                                             std::vector<Reading>& readings) {
  std::vector<Impossible> aside;
  std::vector<Reading> left;
  for (Reading& reading : readings) {
    const Meter meter = meter_at(line, bench, reading.instrument, reading.at);
    const line::Element& at = line.elements[reading.at];
    const auto trouble = reading.instrument == Instrument::inflow    ? std::nullopt  // as wide as it may be
                         : is_gauge(reading.instrument)              ? vacuum_trouble(line, meter, reading)
                         : reading.instrument == Instrument::current ? current_trouble(at, meter, reading.value)
                                                                     : flow_trouble(at, meter, reading.value);
    if (trouble)
      aside.push_back({std::move(reading), *trouble});
    else
      left.push_back(std::move(reading));
  }
  readings = std::move(left);
  return aside;
}

}  // namespace airtally::hunt
