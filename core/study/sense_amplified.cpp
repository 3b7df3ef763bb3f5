// A sensor behind an amplifier and an ADC, judged by what comes through them.
#include <algorithm>
#include <cmath>

#include "study/sense_decide.hpp"
#include "study/sense_private.hpp"

namespace airtally::study {
namespace {

double square(double x) { return x * x; }

double together(const std::vector<Noise>& noises) {
  double sum = 0.0;
  for (const Noise& noise : noises) sum += square(noise.decided);
  return std::sqrt(sum);
}

/// All noise of a decision with the ripples of the pumps, each averaged at its own frequency.
std::vector<Noise> with_ripple(std::vector<Noise> noises, const std::vector<SensedLine::Ripple>& ripples,
                               const line::Adc& adc) {
  double one = 0.0, decided = 0.0;
  for (const SensedLine::Ripple& ripple : ripples) {
    one = std::hypot(one, ripple.rms);
    decided = std::hypot(decided, ripple.rms * laws::ripple_left(ripple.frequency, adc.rate.value, adc.average.value));
  }
  if (one > 0.0) noises.push_back({"pump ripple", one, decided});
  return noises;
}

/// How far apart the two states are in counts.
double counts_between(const Chain& chain, const line::Sensor& sensor, const Seen& seen) {
  return std::abs(read_chain(chain, sensor, seen.part.reading.mean).counts -
                  read_chain(chain, sensor, seen.open.reading.mean).counts);
}

FrontEndOutcome outcome(const line::Sensor& sensor, line::FrontEnd kind, const SensedLine& sensed, std::size_t element,
                        double least, double most) {
  const bool own = kind == sensor.amplifier.kind;
  const line::Sensor other = own ? sensor : with_front_end(sensor, kind, least, most);
  const Chain chain = chain_of(other);
  const Seen seen = seen_at(sensed, element, true, chain, other.adc);
  FrontEndOutcome result;
  result.kind = kind;
  result.own = own;
  result.gain = kind == line::FrontEnd::bare ? 1.0 : other.amplifier.gain.value;
  result.counts = counts_between(chain, other, seen);
  result.noise = together(with_ripple(chain.noises, sensed.ripples(TipLook::part, element, true), other.adc));
  result.error_rate = equal_error(seen);
  result.share_alive = share_alive(chain, least, most);
  result.works =
      kind == line::FrontEnd::bare || (own ? result.share_alive >= enough_builds : best_gain(other, least, most) > 0.0);
  return result;
}

SensorPlace place_at(const SensedLine& sensed, std::size_t element, const Chain& chain, const line::Adc& adc) {
  const Seen seen = seen_at(sensed, element, false, chain, adc);
  SensorPlace place;
  place.signal = signal(seen);
  const laws::Clipped& part = seen.part.reading;
  const double bounded = sensed.bounded_deviation(TipLook::part, element);
  place.vacuum = part.mean;
  place.noise = std::hypot(std::hypot(part.before, part.after), bounded);
  place.separation = separation(seen);
  return place;
}

/// Names the states that one limit holds.
void find_alike(std::vector<SensedState>& states) {
  for (SensedState& state : states)
    for (const SensedState& other : states)
      if (&other != &state && state.reading.clipped && other.reading.clipped &&
          state.reading.output == other.reading.output)
        state.alike.push_back(other.name);
}

/// The same reading on any build: what is fixed in one and unknown in all comes ahead of the limits.
SeenState on_any(SeenState state, double fixed) {
  state.reading.before = std::hypot(state.reading.before, fixed);
  return state;
}

}  // namespace

Seen seen_at(const SensedLine& sensed, std::size_t element, bool in_tube, const Chain& chain, const line::Adc& adc) {
  const auto state = [&](TipLook look) -> SeenState {
    const auto noises = with_ripple(chain.noises, sensed.ripples(look, element, in_tube), adc);
    const laws::Clipped reading =
        decided_reading(chain, sensed.vacuum(look, element), noises, sensed.normal_scatter(look, element));
    return {reading, sensed.bounded_scatter(look, element)};
  };
  return {state(TipLook::open), state(TipLook::part)};
}

bool told_apart(const Chain& chain, const line::Sensor& sensor, const Seen& seen) {
  if (!(signal(seen) > 0.0) || counts_between(chain, sensor, seen) < 1.0) return false;
  const laws::ErrorRates rates = rates_of(seen, threshold_of(seen));
  return std::max(rates.false_above, rates.false_below) <= sensor.allowed.value;
}

void judge_chain(const line::Line& line, const SensedLine& sensed, Sense& result) {
  const line::Sensor& sensor = line.sensor.value();
  const std::size_t at = result.element;
  result.chain = chain_of(sensor);
  result.averaging_time = sensor.adc.average.value / sensor.adc.rate.value;
  const Seen seen = seen_at(sensed, at, true, result.chain, sensor.adc);
  for (const auto& [look, name] : shown_looks) {
    const double vacuum = sensed.vacuum(look, at), gap = sensed.scatter(look, at);
    const auto noises = with_ripple(result.chain.noises, sensed.ripples(look, at, true), sensor.adc);
    result.states.push_back({name,
                             read_chain(result.chain, sensor, vacuum),
                             laws::clipped_deviation(decided_reading(result.chain, vacuum, noises, gap)),
                             {}});
  }
  find_alike(result.states);
  result.open_scatter = unlimited(seen.open);
  result.part_scatter = unlimited(seen.part);
  result.noises = with_ripple(result.chain.noises, sensed.ripples(TipLook::part, at, true), sensor.adc);
  result.noise = together(result.noises);

  const double most = sensed.vacuum(TipLook::blocked, at);
  const double least = std::min(seen.open.reading.mean, seen.part.reading.mean);
  result.share_alive = share_alive(result.chain, least, most);
  result.best_gain = best_gain(sensor, least, most);
  using line::FrontEnd;
  for (const FrontEnd kind : {FrontEnd::bare, FrontEnd::difference, FrontEnd::instrumentation, FrontEnd::converter})
    result.front_ends.push_back(outcome(sensor, kind, sensed, at, least, most));
  result.places =
      sensor_places(line, [&](std::size_t element) { return place_at(sensed, element, result.chain, sensor.adc); });

  const double allowed = sensor.allowed.value;
  if (signal(seen) > 0.0) {
    result.threshold = threshold_of(seen);
    result.at_threshold = read_chain(result.chain, sensor, result.threshold);
    result.taught = rates_of(seen, result.threshold);
    result.separation = separation(seen);
    const double fixed =
        std::hypot(result.chain.fixed_error / std::abs(result.chain.slope), 0.5 * sensor.accuracy.value);
    result.computed = rates_of({on_any(seen.open, fixed), on_any(seen.part, fixed)}, result.threshold);
    result.clogged_looks_held = sensed.clogged_at(result.threshold);
    result.tells = counts_between(result.chain, sensor, seen) >= 1.0 && result.taught.false_above <= allowed &&
                   result.taught.false_below <= allowed;
  } else {
    result.taught = result.computed = {0.5, 0.5};
  }
  if (!result.tells) return;
  // Safe: so far above the threshold that noise brings it back below no more often than allowed.
  tell_when(
      line, sensed,
      {result.threshold, safe_vacuum(seen.part, result.threshold, allowed),
       safe_vacuum_missed(seen.open, result.threshold, allowed), result.averaging_time,
       sensed.neighbours(TipLook::part).shift[at], sensed.neighbours(TipLook::open).shift[at]},
      [&](double other) { return rates_of(seen, other); }, result);
}

}  // namespace airtally::study
