#include "study/sense.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "errors.hpp"
#include "line/seat.hpp"
#include "study/sense_decide.hpp"
#include "study/sense_line.hpp"
#include "study/sense_pick.hpp"

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

/// Of the vacuum itself: the gaps of the other nozzles' parts in every state, and of this one's with the part on.
double scatter(const SensedLine& sensed, TipLook look, std::size_t element) {
  const double own = look == TipLook::part ? sensed.gap_spread(element) : 0.0;
  return std::hypot(own, sensed.neighbours(look).spread.at(element));
}

/// The two states at one place.
Seen seen_at(const SensedLine& sensed, std::size_t element, bool in_tube, const Chain& chain, const line::Adc& adc) {
  const auto noises = [&](TipLook look) {
    return with_ripple(chain.noises, sensed.ripple(look, element, in_tube), sensed, adc);
  };
  return {decided_reading(chain, sensed.vacuum(TipLook::open, element), noises(TipLook::open),
                          scatter(sensed, TipLook::open, element)),
          decided_reading(chain, sensed.vacuum(TipLook::part, element), noises(TipLook::part),
                          scatter(sensed, TipLook::part, element))};
}

/// How far apart the two states are in counts.
double counts_between(const Chain& chain, const line::Sensor& sensor, const Seen& seen) {
  return std::abs(read_chain(chain, sensor, seen.part.mean).counts - read_chain(chain, sensor, seen.open.mean).counts);
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
  result.noise = together(with_ripple(chain.noises, sensed.ripple(TipLook::part, element, true), sensed, other.adc));
  result.error_rate = equal_error(seen);
  result.share_alive = share_alive(chain, least, most);
  result.works =
      kind == line::FrontEnd::bare || (own ? result.share_alive >= enough_builds : best_gain(other, least, most) > 0.0);
  return result;
}

std::vector<SensorPlace> places(const line::Line& line, const SensedLine& sensed, const Chain& chain,
                                const line::Adc& adc) {
  std::vector<SensorPlace> all;
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    if (line.elements[i].kind == line::Kind::nozzle) continue;  // its end is the mouth, where no sensor can be
    const Seen seen = seen_at(sensed, i, false, chain, adc);
    SensorPlace place;
    place.element = i;
    place.signal = signal(seen);
    place.vacuum = seen.part.mean;
    place.noise = std::hypot(seen.part.before, seen.part.after);
    place.separation = separation(seen);
    all.push_back(place);
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const SensorPlace& a, const SensorPlace& b) { return a.separation > b.separation; });
  return all;
}

/// Names the states that one limit holds.
void find_alike(std::vector<SensedState>& states) {
  for (SensedState& state : states)
    for (const SensedState& other : states)
      if (&other != &state && state.reading.clipped && other.reading.clipped &&
          state.reading.output == other.reading.output)
        state.alike.push_back(other.name);
}

/// Whether one limit holds both the open nozzle and the part.
bool read_alike(const std::vector<SensedState>& states) {
  const std::vector<std::string>& like_open = states.front().alike;
  return std::find(like_open.begin(), like_open.end(), "part") != like_open.end();
}

/// The same reading on any build: what is fixed in one and unknown in all comes ahead of the limits.
laws::Clipped on_any(laws::Clipped reading, double fixed) {
  reading.before = std::hypot(reading.before, fixed);
  return reading;
}

}  // namespace

std::size_t sensor_place(const line::Line& line) {
  const line::Sensor& sensor = line.sensor.value();
  const auto at = line::find(line, sensor.at);
  if (!at)
    throw BadInput(sensor.at_where, fmt::format("[sensor]: at = \"{}\" names no element of the line.", sensor.at));
  if (line.elements[*at].kind == line::Kind::nozzle)
    throw BadInput(sensor.at_where,
                   fmt::format("[sensor]: at = \"{}\" is a nozzle, whose tip-side end is the mouth on the "
                               "part; name the element before it.",
                               sensor.at));
  return *at;
}

Sense sense(const line::Line& line, std::optional<std::size_t> asked) {
  if (!line.sensor)
    throw BadInput({line.file, 0, 0},
                   "there is no sensor to judge; add a table [sensor] with its place, span, amplifier and ADC.");
  if (!line.part) throw BadInput({line.file, 0, 0}, "there is no part to tell from none; add a table [part].");
  const std::size_t at = sensor_place(line);
  const line::Sensor& sensor = *line.sensor;
  const SensedLine sensed(line, at, asked);

  Sense result;
  result.element = at;
  result.nozzle = sensed.nozzle_element();
  result.chain = chain_of(sensor);
  result.averaging_time = sensor.adc.average.value / sensor.adc.rate.value;
  const Seen seen = seen_at(sensed, at, true, result.chain, sensor.adc);
  const std::pair<TipLook, const char*> names[] = {{TipLook::open, "open"},
                                                   {TipLook::half, "half covered"},
                                                   {TipLook::part, "part"},
                                                   {TipLook::leaking, "part, leaking"},
                                                   {TipLook::blocked, "blocked"}};
  for (const auto& [look, name] : names) {
    const double vacuum = sensed.vacuum(look, at), gap = scatter(sensed, look, at);
    const auto noises = with_ripple(result.chain.noises, sensed.ripple(look, at, true), sensed, sensor.adc);
    result.states.push_back({name,
                             read_chain(result.chain, sensor, vacuum),
                             laws::clipped_deviation(decided_reading(result.chain, vacuum, noises, gap)),
                             {}});
  }
  find_alike(result.states);
  result.noises = with_ripple(result.chain.noises, sensed.ripple(TipLook::part, at, true), sensed, sensor.adc);
  result.noise = together(result.noises);
  result.gap_spread = sensed.gap_spread(at);
  const Neighbours &open = sensed.neighbours(TipLook::open), &held = sensed.neighbours(TipLook::part);
  result.neighbours = {held.spread[at], open.spread[at], held.shift[at], held.alike[at]};

  const double most = sensed.vacuum(TipLook::blocked, at);
  const double least = std::min(seen.open.mean, seen.part.mean);
  result.share_alive = share_alive(result.chain, least, most);
  result.best_gain = best_gain(sensor, least, most);
  using line::FrontEnd;
  for (const FrontEnd kind : {FrontEnd::bare, FrontEnd::difference, FrontEnd::instrumentation, FrontEnd::converter})
    result.front_ends.push_back(outcome(sensor, kind, sensed, at, least, most));
  result.places = places(line, sensed, result.chain, sensor.adc);

  const double allowed = sensor.allowed.value;
  const bool apart = signal(seen) > 0.0;
  result.why_not_closed = line::why_not_closed(line, result.nozzle);
  if (apart) {
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
  if (result.tells) {
    // Safe: so far above the threshold that noise brings it back below no more often than allowed.
    const double level = safe_vacuum(seen.part, result.threshold, allowed);
    if (const auto time = sensed.rises_to(level)) result.safe_after = *time + result.averaging_time;
    result.pick = sensed_pick(line, at, result.nozzle,
                              {result.threshold, level, safe_vacuum_missed(seen.open, result.threshold, allowed),
                               result.averaging_time, held.shift[at], open.shift[at]});
    // A pick after a pause finds the line at rest, and another threshold has to tell there, too.
    if (result.pick && result.pick->other_threshold) {
      const laws::ErrorRates rates = rates_of(seen, *result.pick->other_threshold);
      if (std::max(rates.false_above, rates.false_below) > allowed) result.pick->other_threshold.reset();
    }
  }
  if (!result.why_not_closed.empty())
    result.notes.push_back(result.why_not_closed + "; the nozzle is taken to stay open");
  else if (!(seen.part.mean > seen.open.mean))
    result.notes.emplace_back("the part raises the vacuum at the sensor by nothing");
  else if (counts_between(result.chain, sensor, seen) < 1.0)
    result.notes.emplace_back(read_alike(result.states)
                                  ? "open and part come out of the amplifier alike: it is at its rail"
                                  : "open and part lie less than one count apart");
  if (const double reach = std::max(least, most); reach > sensor.range.value)
    result.notes.push_back(
        fmt::format("the sensor is made for {:.1f} kPa and feels up to {:.1f} kPa: beyond its range it is "
                    "taken to go on straight, which real ones don't",
                    sensor.range.value / 1e3, reach / 1e3));
  if (line.part->gap.is_exact())
    result.notes.emplace_back(
        "the part's gap has no tolerance: every part is taken to seal alike, which real parts don't");
  if (sensed.ripple_frequency() <= 0.0)
    result.notes.emplace_back("the pump's ripple is not given: it is taken to run smoothly");
  return result;
}

}  // namespace airtally::study
