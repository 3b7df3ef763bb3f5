#include "hunt/readings/beside.hpp"

#include <algorithm>
#include <cmath>

namespace airtally::hunt {
namespace {

constexpr double beyond = 3.0;     ///< standard deviations
constexpr double as_pumps = 0.05;  ///< of what is expected: pumps differ by that from their sheets; no source

/// The step that a reading was taken at; none for a drilled plate or another state of the tips.
std::optional<std::size_t> step_of(const line::Line& line, const study::Strip& strip, const Reading& reading) {
  std::optional<std::size_t> cap = reading.setting.cap;
  const auto nozzles = line::all_of(line, line::Kind::nozzle);
  if (!cap && nozzles.size() == 1 && reading.setting.tips == std::vector{solve::TipState::blocked}) cap = nozzles[0];
  if (!cap || reading.setting.hole > 0.0) return std::nullopt;
  for (std::size_t s = 0; s < strip.steps.size(); ++s)
    if (strip.steps[s].cap == *cap) return s;
  return std::nullopt;
}

std::optional<double> predicted(const study::StripStep& step, Instrument instrument, std::size_t at) {
  if (instrument == Instrument::plugged) return step.end;
  for (const study::StripReading& reading : step.readings) {
    if (reading.at != at) continue;
    if (instrument == Instrument::vacuum) return reading.vacuum;
    if (instrument == Instrument::current) return reading.current;
  }
  return std::nullopt;
}

}  // namespace

BesideAll beside(const line::Line& line, const study::Strip& strip, const Readings& readings) {
  BesideAll all;
  for (const Reading& reading : readings.list) {
    const auto step = step_of(line, strip, reading);
    const auto expected =
        step ? predicted(strip.steps[*step], reading.instrument, reading.at) : std::optional<double>();
    if (!expected) {
      ++all.others;
      continue;
    }
    const Meter meter = meter_at(line, readings.bench, reading.instrument, reading.at);
    all.list.push_back({*step, reading.instrument, reading.at, reading.value, *expected, meter.noise(),
                        0.5 * meter.accuracy, 0.0, false});
  }
  std::stable_sort(all.list.begin(), all.list.end(), [](const Beside& a, const Beside& b) { return a.step < b.step; });
  double most = 0.0, most_spared = 0.0, most_off = 0.0;
  for (std::size_t i = 0; i < all.list.size(); ++i) {
    Beside& here = all.list[i];
    const bool loose = here.instrument == Instrument::plugged;  // the same gauge, wherever it is
    // Towards the source until a step was read at this instrument.
    for (std::size_t s = here.step; strip.steps[s].before != s && !here.compared;) {
      s = strip.steps[s].before;
      for (const Beside& b : all.list)
        if (b.step == s && b.instrument == here.instrument && (b.at == here.at || loose) && !here.compared) {
          here.compared = true;
          here.surprise = (here.read - b.read) - (here.predicted - b.predicted);
        }
    }
    if (!here.compared) {
      const double off = here.predicted - here.read, own = std::hypot(here.noise, here.accuracy);
      const double lacks = is_gauge(here.instrument) ? off : std::fabs(off);
      if (lacks > as_pumps * std::fabs(here.predicted) && lacks / own > std::max(most_off, beyond)) {
        most_off = lacks / own;
        all.off = i;
      }
      continue;
    }
    const double deviations = std::fabs(here.surprise) / (std::sqrt(2.0) * here.noise);
    const bool better = is_gauge(here.instrument) && here.surprise > 0.0;  // than the file says
    double& so_far = better ? most_spared : most;
    if (deviations <= std::max(so_far, beyond)) continue;
    so_far = deviations;
    (better ? all.spared : all.worst) = i;
  }
  return all;
}

}  // namespace airtally::hunt
