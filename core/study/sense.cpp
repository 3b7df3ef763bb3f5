#include "study/sense.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "errors.hpp"
#include "study/sense_line.hpp"

namespace airtally::study {
namespace {

double square(double x) { return x * x; }

double together(const std::vector<Noise>& noises) {
  double sum = 0.0;
  for (const Noise& noise : noises) sum += square(noise.decided);
  return std::sqrt(sum);
}

/// All noise of a decision where the pump's ripple has this rms [Pa].
std::vector<Noise> with_ripple(std::vector<Noise> noises, double rms, const SensedLine& sensed, const line::Adc& adc) {
  if (rms > 0.0) {
    const double left = laws::ripple_left(sensed.ripple_frequency(), adc.rate.value, adc.average.value);
    noises.push_back({"pump ripple", rms, rms * left});
  }
  return noises;
}

laws::Scatter scatter(double mean, double deviation) {
  return {mean, std::max(deviation, 1e-6)};  // a perfect chain would have no scatter to compute with
}

/// The two states and the noise at one place.
struct Seen {
  laws::Scatter open, part;
};

Seen seen_at(const SensedLine& sensed, std::size_t element, bool in_tube, const std::vector<Noise>& chain,
             const line::Adc& adc) {
  const double open = sensed.vacuum(TipLook::open, element), part = sensed.vacuum(TipLook::part, element);
  const double quiet_open = together(with_ripple(chain, sensed.ripple(TipLook::open, element, in_tube), sensed, adc));
  const double quiet_part = together(with_ripple(chain, sensed.ripple(TipLook::part, element, in_tube), sensed, adc));
  return {scatter(open, quiet_open), scatter(part, std::hypot(quiet_part, sensed.gap_spread(element)))};
}

FrontEndOutcome outcome(const line::Sensor& sensor, line::FrontEnd kind, const SensedLine& sensed, std::size_t element,
                        double least, double most) {
  const line::Sensor other = with_front_end(sensor, kind, least, most);
  const Chain chain = chain_of(other);
  const Seen seen = seen_at(sensed, element, true, chain.noises, other.adc);
  FrontEndOutcome result;
  result.kind = kind;
  result.own = kind == sensor.amplifier.kind;
  result.works = best_gain(other, least, most) > 0.0;
  result.gain = kind == line::FrontEnd::bare ? 1.0 : other.amplifier.gain.value;
  result.counts =
      std::abs(read_chain(chain, other, seen.part.mean).counts - read_chain(chain, other, seen.open.mean).counts);
  result.noise = together(with_ripple(chain.noises, sensed.ripple(TipLook::part, element, true), sensed, other.adc));
  result.error_rate = laws::upper_tail(laws::separation(seen.open, seen.part));
  result.share_alive = share_alive(chain, least, most);
  return result;
}

std::vector<SensorPlace> places(const line::Line& line, const SensedLine& sensed, const Chain& chain,
                                const line::Adc& adc) {
  std::vector<SensorPlace> all;
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    if (line.elements[i].kind == line::Kind::nozzle) continue;  // its end is the mouth, where no sensor can be
    const Seen seen = seen_at(sensed, i, false, chain.noises, adc);
    SensorPlace place;
    place.element = i;
    place.signal = seen.part.mean - seen.open.mean;
    place.vacuum = seen.part.mean;
    place.noise = seen.part.deviation;
    place.separation = laws::separation(seen.open, seen.part);
    all.push_back(place);
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const SensorPlace& a, const SensorPlace& b) { return a.separation > b.separation; });
  return all;
}

/// What the chain does to two states: as they come through.
bool comes_through(const Chain& chain, const line::Sensor& sensor, const Seen& seen) {
  return std::abs(read_chain(chain, sensor, seen.part.mean).counts -
                  read_chain(chain, sensor, seen.open.mean).counts) >= 1.0;
}

}  // namespace

Sense sense(const line::Line& line, std::optional<std::size_t> asked) {
  if (!line.sensor)
    throw BadInput({line.file, 0, 0},
                   "there is no sensor to judge; add a table [sensor] with its place, span, amplifier and ADC.");
  if (!line.part) throw BadInput({line.file, 0, 0}, "there is no part to tell from none; add a table [part].");
  const line::Sensor& sensor = *line.sensor;
  const auto at = line::find(line, sensor.at);
  if (!at)
    throw BadInput(sensor.at_where, fmt::format("[sensor]: at = \"{}\" names no element of the line.", sensor.at));
  if (line.elements[*at].kind == line::Kind::nozzle)
    throw BadInput(sensor.at_where,
                   fmt::format("[sensor]: at = \"{}\" is a nozzle, whose tip-side end is the mouth on the "
                               "part; name the element before it.",
                               sensor.at));
  const SensedLine sensed(line, *at, asked);

  Sense result;
  result.element = *at;
  result.nozzle = sensed.nozzle_element();
  result.chain = chain_of(sensor);
  result.averaging_time = sensor.adc.average.value / sensor.adc.rate.value;
  const Seen seen = seen_at(sensed, *at, true, result.chain.noises, sensor.adc);
  const std::pair<TipLook, const char*> names[] = {{TipLook::open, "open"},
                                                   {TipLook::half, "half covered"},
                                                   {TipLook::part, "part"},
                                                   {TipLook::leaking, "part, leaking"},
                                                   {TipLook::blocked, "blocked"}};
  for (const auto& [look, name] : names) {
    const double noise = together(with_ripple(result.chain.noises, sensed.ripple(look, *at, true), sensed, sensor.adc));
    const double deviation = look == TipLook::part ? seen.part.deviation : noise;
    result.states.push_back({name, read_chain(result.chain, sensor, sensed.vacuum(look, *at)), deviation});
  }
  result.noises = with_ripple(result.chain.noises, sensed.ripple(TipLook::part, *at, true), sensed, sensor.adc);
  result.noise = together(result.noises);
  result.gap_spread = sensed.gap_spread(*at);

  const double most = sensed.vacuum(TipLook::blocked, *at);
  const double least = std::min(seen.open.mean, seen.part.mean);
  result.share_alive = share_alive(result.chain, least, most);
  result.best_gain = best_gain(sensor, least, most);
  using line::FrontEnd;
  for (const FrontEnd kind : {FrontEnd::bare, FrontEnd::difference, FrontEnd::instrumentation, FrontEnd::converter})
    result.front_ends.push_back(outcome(sensor, kind, sensed, *at, least, most));
  result.places = places(line, sensed, result.chain, sensor.adc);

  const bool signal = seen.part.mean > seen.open.mean;
  if (signal) {
    result.threshold = laws::best_threshold(seen.open, seen.part);
    result.taught = laws::error_rates(seen.open, seen.part, result.threshold);
    result.separation = laws::separation(seen.open, seen.part);
    // On any build: what is fixed in one and unknown in all.
    const double fixed =
        std::hypot(result.chain.fixed_error / std::abs(result.chain.slope), 0.5 * sensor.accuracy.value);
    const auto wider = [&](laws::Scatter s) { return scatter(s.mean, std::hypot(s.deviation, fixed)); };
    result.computed = laws::error_rates(wider(seen.open), wider(seen.part), result.threshold);
  } else {
    result.taught = result.computed = {0.5, 0.5};
    result.notes.emplace_back("the part raises the vacuum at the sensor by nothing");
  }
  result.at_threshold = read_chain(result.chain, sensor, result.threshold);
  const bool through = comes_through(result.chain, sensor, seen);
  const double allowed = sensor.allowed.value;
  result.tells = signal && through && result.taught.false_above <= allowed && result.taught.false_below <= allowed;
  if (signal) {
    result.clogged_looks_held = sensed.clogged_at(result.threshold);
    // Safe: so far above the threshold that noise brings it back below no more often than allowed.
    const double level = result.threshold + laws::deviations_for(allowed) * seen.part.deviation;
    if (const auto time = sensed.rises_to(level)) result.safe_after = *time + result.averaging_time;
  }
  if (signal && !through) result.notes.emplace_back("open and part come out of the amplifier alike: it is at its rail");
  if (line.part->gap.is_exact())
    result.notes.emplace_back(
        "the part's gap has no tolerance: every part is taken to seal alike, which real parts don't");
  if (sensed.ripple_frequency() <= 0.0)
    result.notes.emplace_back("the pump's ripple is not given: it is taken to run smoothly");
  return result;
}

}  // namespace airtally::study
