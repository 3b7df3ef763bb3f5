#include "study/sense_chain.hpp"

#include <algorithm>
#include <cmath>

#include "laws/amplifier.hpp"
#include "laws/detection.hpp"

namespace airtally::study {
namespace {

using line::FrontEnd;

double squared(double x) { return x * x; }

/// Adds a noise that is independent from reading to reading.
void add(Chain& chain, std::string what, double one, double average, NoiseAt at) {
  if (one > 0.0) chain.noises.push_back({std::move(what), one, laws::averaged(one, average), at});
}

void add_rails(Chain& chain, const line::Sensor& s) {
  const line::Amplifier& a = s.amplifier;
  const double half = 0.5 * s.excitation.value;  // where both legs of the bridge stand
  switch (a.kind) {
    case FrontEnd::bare: {
      // Each leg has to lie between ground and the reference; their difference is twice what one of them moves by.
      const double room = std::max(0.0, std::min(half, s.adc.reference.value - half));
      chain.low = -2.0 * room;
      chain.high = 2.0 * room;
      return;
    }
    case FrontEnd::converter:
      chain.low = -s.excitation.value;
      chain.high = s.excitation.value;
      return;
    case FrontEnd::difference:
    case FrontEnd::instrumentation:
      chain.low = std::max(0.0, a.rail_low ? a.rail_low->value : 0.0);
      chain.high = s.adc.reference.value;
      if (a.rail_high) chain.high = std::min(chain.high, a.rail_high->value);
      chain.low_is_adc = !a.rail_low || a.rail_low->value <= 0.0;
      chain.high_is_adc = !a.rail_high || a.rail_high->value >= s.adc.reference.value;
  }
}

/// One standard deviation of all that is fixed in one build and differs in the next [V at the ADC].
double fixed_error(const Chain& chain, const line::Sensor& s) {
  const line::Amplifier& a = s.amplifier;
  const double half = 0.5 * s.excitation.value;
  // The offset of a difference amplifier works on its noise gain.
  const double offset_gain = a.kind == FrontEnd::difference ? 1.0 + chain.gain : chain.gain;
  double sum = squared(chain.gain * s.zero.standard_deviation()) + squared(offset_gain * 0.5 * a.offset.value);
  if (a.kind == FrontEnd::difference && a.resistor_tolerance.value > 0.0)
    sum += squared(half * laws::difference_common_gain(chain.gain, a.resistor_tolerance.value));
  if (a.rejection) sum += squared(0.5 * half * offset_gain / laws::from_decibels(a.rejection->value));
  return std::sqrt(sum);
}

void add_noises(Chain& chain, const line::Sensor& s) {
  const line::Amplifier& a = s.amplifier;
  const double average = s.adc.average.value, per_volt = 1.0 / std::abs(chain.slope);
  const double noise_gain = a.kind == FrontEnd::difference ? 1.0 + chain.gain : chain.gain;
  // A bare bridge is read twice, leg by leg.
  const double readings = a.kind == FrontEnd::bare ? std::sqrt(2.0) : 1.0;
  add(chain, "sensor", s.noise.value, average, NoiseAt::signal);
  add(chain, "amplifier", noise_gain * a.noise.value * per_volt, average, NoiseAt::signal);
  add(chain, "ADC", readings * s.adc.noise.value * chain.step * per_volt, average, NoiseAt::adc);
  // Rounding averages out only where other noise carries the reading over from step to step.
  double other = 0.0;
  for (const Noise& noise : chain.noises) other += squared(noise.one);
  const bool dithered = std::sqrt(other) > 0.5 * chain.step * per_volt;
  add(chain, "rounding", readings * laws::rounding_noise(chain.step) * per_volt, dithered ? average : 1.0,
      NoiseAt::rounding);
}

}  // namespace

Chain chain_of(const line::Sensor& s) {
  const line::Amplifier& a = s.amplifier;
  Chain chain;
  chain.bridge_slope = (s.vacuum_raises ? 1.0 : -1.0) * s.span.value / s.range.value;
  chain.gain = a.kind == FrontEnd::bare ? 1.0 : a.gain.value;
  if (a.kind == FrontEnd::difference && a.input_resistor)
    chain.gain =
        laws::difference_gain(a.input_resistor->value, a.gain.value * a.input_resistor->value, s.resistance.value);
  chain.slope = chain.gain * chain.bridge_slope;
  chain.at_no_vacuum = chain.gain * s.zero.value + a.bias.value;
  const bool converter = a.kind == FrontEnd::converter;
  // A converter's range reaches as far below zero as above.
  chain.step = laws::adc_step(converter ? 2.0 * s.excitation.value : s.adc.reference.value, s.adc.bits.value);
  // The code of all ones is the highest; a bare bridge is the difference of two codes, and a converter counts either
  // way.
  const double codes = std::exp2(s.adc.bits.value);
  chain.most_counts = converter ? 0.5 * codes - 1.0 : codes - 1.0;
  chain.least_counts = converter ? -0.5 * codes : a.kind == FrontEnd::bare ? 1.0 - codes : 0.0;
  add_rails(chain, s);
  chain.fixed_error = fixed_error(chain, s);
  add_noises(chain, s);
  return chain;
}

ChainReading read_chain(const Chain& chain, const line::Sensor& sensor, double vacuum) {
  ChainReading reading;
  reading.vacuum = vacuum;
  reading.bridge = sensor.zero.value + chain.bridge_slope * vacuum;
  reading.wanted = chain.at_no_vacuum + chain.slope * vacuum;
  const bool dead = chain.low >= chain.high;
  reading.output = dead ? chain.high : laws::between(reading.wanted, {chain.low, chain.high});
  reading.clipped = dead || reading.output != reading.wanted;
  reading.read = reading.clipped ? as_read(chain, vacuum) : vacuum;
  reading.counts = std::clamp(std::floor(reading.output / chain.step + 0.5), chain.least_counts, chain.most_counts);
  return reading;
}

namespace {

/// Lowest and highest vacuum that get through [Pa], in this order; alike where nothing does.
std::pair<double, double> limits_of(const Chain& chain) {
  const auto vacuum = [&](double volts) { return (volts - chain.at_no_vacuum) / chain.slope; };
  const double low = vacuum(std::min(chain.low, chain.high)), high = vacuum(chain.high);
  if (chain.low >= chain.high) return {high, high};
  return std::minmax(low, high);
}

}  // namespace

double as_read(const Chain& chain, double vacuum) {
  const auto [low, high] = limits_of(chain);
  return std::clamp(vacuum, low, high);
}

laws::Clipped decided_reading(const Chain& chain, double vacuum, const std::vector<Noise>& noises, double more) {
  const auto [low, high] = limits_of(chain);
  // Near one limit the other is far away: it is the nearer one that says whether the ADC's noise is held.
  const bool near_high = (high - vacuum < vacuum - low) == (chain.slope > 0.0);
  const bool held = near_high ? chain.high_is_adc : chain.low_is_adc;
  double before = squared(more), after = 0.0;
  for (const Noise& noise : noises) {
    const bool ahead = noise.at == NoiseAt::signal || (noise.at == NoiseAt::adc && held);
    (ahead ? before : after) += squared(noise.decided);
  }
  constexpr double least = 1e-6;  // [Pa]; a perfect chain would have no scatter to compute with
  return {vacuum, std::max(std::sqrt(before), least), std::max(std::sqrt(after), least), low, high};
}

double share_alive(const Chain& chain, double least, double most) {
  if (chain.low >= chain.high) return 0.0;
  const double a = chain.at_no_vacuum + chain.slope * least, b = chain.at_no_vacuum + chain.slope * most;
  const double below = chain.low - std::min(a, b), above = chain.high - std::max(a, b);
  if (above <= below) return 0.0;
  if (chain.fixed_error <= 0.0) return below <= 0.0 && above >= 0.0 ? 1.0 : 0.0;
  return laws::upper_tail(below / chain.fixed_error) - laws::upper_tail(above / chain.fixed_error);
}

line::Sensor with_gain(line::Sensor sensor, double gain) {
  if (sensor.amplifier.kind != FrontEnd::bare) sensor.amplifier.gain = gain;
  return sensor;
}

namespace {

constexpr double lowest_gain = 0.1, highest_gain = 1e5, finer = 1.05;

double alive_at(const line::Sensor& sensor, double gain, double least, double most) {
  return share_alive(chain_of(with_gain(sensor, gain)), least, most);
}

/// The gain at which most builds work, where none lets enough of them. Where a lower rail is what fails, many gains
/// work alike: of these the largest, which uses the ADC best.
double least_bad_gain(const line::Sensor& sensor, double least, double most) {
  constexpr double as_good = 1e-3;
  double share = 0.0, best = 1.0;
  for (double gain = lowest_gain; gain <= highest_gain; gain *= finer)
    share = std::max(share, alive_at(sensor, gain, least, most));
  for (double gain = lowest_gain; gain <= highest_gain; gain *= finer)
    if (alive_at(sensor, gain, least, most) >= share - as_good) best = gain;
  return best;
}

}  // namespace

double best_gain(const line::Sensor& sensor, double least, double most) {
  if (sensor.amplifier.kind == FrontEnd::bare) return 1.0;
  const auto works_at = [&](double gain) { return alive_at(sensor, gain, least, most) >= enough_builds; };
  // With a lower rail above the resting output the lowest gains fail too: walk up until it fails after having worked.
  double works = 0.0, fails = 0.0;
  for (double gain = lowest_gain; gain <= highest_gain; gain *= finer) {
    if (works_at(gain)) {
      works = gain;
    } else if (works > 0.0) {
      fails = gain;
      break;
    }
  }
  if (fails == 0.0) return works;
  while (fails - works > 1e-6 * works) {
    const double middle = 0.5 * (works + fails);
    (works_at(middle) ? works : fails) = middle;
  }
  return works;
}

line::Sensor with_front_end(const line::Sensor& sensor, FrontEnd kind, double least, double most) {
  line::Sensor other = sensor;
  if (kind != sensor.amplifier.kind) {
    const bool was_converter = sensor.amplifier.kind == FrontEnd::converter;
    if (was_converter) {
      other.adc.bits = 12;
      other.adc.reference = 3.3;
      other.adc.noise = 0.5;
    }
    const double reference = other.adc.reference.value;
    line::Amplifier a;
    a.kind = kind;
    if (kind == FrontEnd::difference) {
      a.resistor_tolerance = 0.01;
      a.input_resistor = 10e3;
      a.offset = 2e-3;
      a.noise = 5e-6;
      a.rail_low = 0.05;
      a.rail_high = reference - 1.5;
    } else if (kind == FrontEnd::instrumentation) {
      a.offset = 0.2e-3;
      a.rejection = 90.0;
      a.noise = 3e-6;
      a.bias = 0.1 * reference;
      a.rail_low = 0.1;
      a.rail_high = reference - 0.1;
    } else if (kind == FrontEnd::converter) {
      a.offset = 10e-6;
      a.rejection = 110.0;
      a.noise = 0.3e-6;
      other.adc.bits = 24;
      other.adc.noise = 0.0;
    }
    other.amplifier = a;
  }
  const double gain = best_gain(other, least, most);
  return with_gain(other, gain > 0.0 ? gain : least_bad_gain(other, least, most));
}

}  // namespace airtally::study
