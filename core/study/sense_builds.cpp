// In how many builds a sensor behind an amplifier tells: each has offsets of its own.
#include <algorithm>

#include "study/sense_private.hpp"

namespace airtally::study {
namespace {

constexpr double farthest_build = 4.0;  // deviations of what is fixed in a build; one in 16,000 lies beyond
constexpr int build_steps = 32;
constexpr int halvings = 12;

/// Where between two builds, told and not, the limit is.
template <typename Told>
double limit_between(double told, double not_told, Told told_at) {
  for (int k = 0; k < halvings; ++k) {
    const double middle = 0.5 * (told + not_told);
    (told_at(middle) ? told : not_told) = middle;
  }
  return 0.5 * (told + not_told);
}

}  // namespace

void tell_builds(const line::Line& line, Sense& sense) {
  const line::Sensor& sensor = line.sensor.value();
  if (sensor.ready_made) return;
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  const auto nozzle =
      static_cast<std::size_t>(std::find(nozzles.begin(), nozzles.end(), sense.nozzle) - nozzles.begin());
  const SensedLine sensed(line, sense.element, nozzle);
  const auto told_at = [&](double deviations) {
    Chain chain = sense.chain;
    chain.at_no_vacuum += deviations * chain.fixed_error;
    return told_apart(chain, sensor, seen_at(sensed, sense.element, true, chain, sensor.adc));
  };
  const auto at = [](int k) { return farthest_build * (2.0 * k / build_steps - 1.0); };
  double share = 0.0;
  bool before = told_at(at(0));
  for (int k = 0; k < build_steps; ++k) {
    const double from = at(k), to = at(k + 1);
    const bool after = sense.chain.fixed_error > 0.0 ? told_at(to) : before;
    double a = from, b = to;
    if (before && !after) b = limit_between(from, to, told_at);
    if (!before && after) a = limit_between(to, from, told_at);
    if (before || after) share += laws::upper_tail(a) - laws::upper_tail(b);
    before = after;
  }
  sense.share_told = share;  // of those beyond it is not known
}

}  // namespace airtally::study
