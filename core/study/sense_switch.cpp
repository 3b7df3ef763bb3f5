// A ready-made switch: two set points in place of a threshold behind bridge, amplifier and ADC.
#include <algorithm>
#include <array>
#include <cmath>

#include "study/sense_bounded.hpp"
#include "study/sense_private.hpp"

namespace airtally::study {
namespace {

constexpr double least_scatter = 1e-6;  // [Pa]; a perfect switch on a smooth pump would have none to compute with

/// The two states that it has to tell apart, as vacuum at which it decides [Pa]: nothing is averaged.
struct Switched {
  BoundedScatter open, part;
};

/// One state at one place. `fixed` [Pa] is what differs from switch to switch.
BoundedScatter met(const line::Sensor& sensor, const SensedLine& sensed, TipLook look, std::size_t element,
                   bool in_tube, double fixed) {
  const double shaken = std::hypot(sensor.noise.value, sensed.ripple(look, element, in_tube));
  const double all = std::hypot(std::hypot(shaken, sensed.normal_scatter(look, element)), fixed);
  return {{sensed.vacuum(look, element), std::max(all, least_scatter)}, sensed.bounded_scatter(look, element)};
}

/// Its deviation, be it normal or bounded, with none from switch to switch [Pa].
double deviation(const line::Sensor& sensor, const SensedLine& sensed, TipLook look, std::size_t element,
                 bool in_tube) {
  const double shaken = std::hypot(sensor.noise.value, sensed.ripple(look, element, in_tube));
  return std::max(std::hypot(shaken, sensed.scatter(look, element)), least_scatter);
}

/// A missed part must stay below `off`, since the switch may have been on before; a held one must get above `on`.
laws::ErrorRates rates(const Switched& seen, double on, double off) {
  return {share_above(seen.open, off), share_below(seen.part, on)};
}

SwitchSays says_at(double vacuum, double on, double off) {
  return vacuum >= on ? SwitchSays::on : vacuum <= off ? SwitchSays::off : SwitchSays::as_before;
}

/// With that much more vacuum [Pa].
BoundedScatter raised(BoundedScatter scatter, double by) {
  scatter.normal.mean += by;
  return scatter;
}

SwitchPoints set_points_of(const line::VacuumSwitch& ready_made, const Switched& any, double allowed) {
  const double reach = laws::deviations_for(allowed);
  SwitchPoints points;
  points.on = ready_made.on.value;
  points.off = ready_made.off();
  points.on_highest = threshold_below(any.part, reach);
  points.off_lowest = threshold_above(any.open, reach);
  const double room = points.on_highest - points.off_lowest;
  const double own = ready_made.hysteresis.value, hysteresis = own <= room ? own : 0.0;
  points.best_separation = separation(raised(any.open, hysteresis), any.part);
  if (!(room >= 0.0)) return points;
  // To be below `off` is to be below `on` with all that much more vacuum.
  const double best = best_threshold(raised(any.open, hysteresis), any.part);
  points.best_on = std::min(std::max(best, points.off_lowest + hysteresis), points.on_highest);
  points.most_hysteresis = *points.best_on - points.off_lowest;
  return points;
}

}  // namespace

std::string_view word(SwitchSays says) {
  constexpr std::array<std::string_view, 3> words{"off", "as before", "on"};
  return words.at(static_cast<std::size_t>(says));
}

void judge_switch(const line::Line& line, const SensedLine& sensed, Sense& result) {
  const line::Sensor& sensor = line.sensor.value();
  const line::VacuumSwitch& ready_made = sensor.ready_made.value();
  const std::size_t at = result.element;
  const double on = ready_made.on.value, off = ready_made.off(), hysteresis = ready_made.hysteresis.value;
  const double fixed = 0.5 * sensor.accuracy.value, allowed = sensor.allowed.value;
  const auto both = [&](std::size_t element, bool in_tube, double error) {
    return Switched{met(sensor, sensed, TipLook::open, element, in_tube, error),
                    met(sensor, sensed, TipLook::part, element, in_tube, error)};
  };

  for (const auto& [look, name] : shown_looks) {
    ChainReading reading;
    reading.vacuum = reading.read = sensed.vacuum(look, at);
    result.states.push_back(
        {name, reading, deviation(sensor, sensed, look, at, true), {}, says_at(reading.vacuum, on, off)});
  }
  if (const double noise = sensor.noise.value; noise > 0.0) result.noises.push_back({"switching", noise, noise});
  if (const double ripple = sensed.ripple(TipLook::part, at, true); ripple > 0.0)
    result.noises.push_back({"pump ripple", ripple, ripple});
  for (const Noise& noise : result.noises) result.noise = std::hypot(result.noise, noise.decided);
  result.averaging_time = ready_made.response.value;
  result.places = sensor_places(line, [&](std::size_t element) {
    const Switched any = both(element, false, fixed);
    SensorPlace place;
    place.vacuum = any.part.normal.mean;
    place.signal = any.part.normal.mean - any.open.normal.mean;
    place.noise = deviation(sensor, sensed, TipLook::part, element, false);
    place.separation = separation(raised(any.open, hysteresis), any.part);
    return place;
  });

  const Switched seen = both(at, true, 0.0), any = both(at, true, fixed);
  result.open_scatter = seen.open;
  result.part_scatter = seen.part;
  result.threshold = result.at_threshold.vacuum = result.at_threshold.read = on;
  result.taught = rates(seen, on, off);
  result.computed = rates(any, on, off);
  result.points = set_points_of(ready_made, any, allowed);
  result.separation = std::min(deviations_below(any.open, off), deviations_above(any.part, on));
  result.clogged_looks_held = sensed.clogged_at(off);
  // It is set by its display and taught nothing.
  result.tells = result.computed.false_above <= allowed && result.computed.false_below <= allowed;
  SwitchPoints& points = *result.points;
  const auto safe = [&](double up, double down) -> SafeReadings {
    return {up,
            up + (any.part.normal.mean - points.on_highest),
            down - (points.off_lowest - any.open.normal.mean),
            result.averaging_time,
            sensed.neighbours(TipLook::part).shift[at],
            sensed.neighbours(TipLook::open).shift[at]};
  };
  const double wide = points.best_on && !result.tells ? points.best_hysteresis() : hysteresis;
  const auto rates_at = [&](double other) { return rates(any, other, other - wide); };
  if (result.tells)
    tell_when(line, sensed, safe(on, off), rates_at, result);
  else if (points.best_on)
    points.best_pick = pick_by(line, result, safe(*points.best_on, *points.best_on - wide), rates_at);
}

}  // namespace airtally::study
