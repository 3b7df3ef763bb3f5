#include "study/sense_decide.hpp"

#include <algorithm>
#include <cmath>

#include "study/lowest_private.hpp"

namespace airtally::study {
namespace {

constexpr double next_to_never = 1e-9;  // "never in a billion", as it is printed

/// Where the state is read on average if there were no noise, with all of its deviation.
laws::Scatter held(const laws::Clipped& c) {
  return {std::clamp(c.mean, c.low, c.high), std::hypot(c.before, c.after)};
}

bool is_free(const SeenState& state) {
  if (!laws::is_free(state.reading)) return false;
  return std::all_of(state.gaps.begin(), state.gaps.end(), [&](const Stretch& stretch) {
    laws::Clipped from = state.reading, to = state.reading;
    from.mean += stretch.from;
    to.mean += stretch.to;
    return laws::is_free(from) && laws::is_free(to);
  });
}

bool is_free(const Seen& seen) { return is_free(seen.open) && is_free(seen.part); }

/// How often a state reads on that side of the threshold, by `share` of a reading with another mean. Where a limit is
/// near, each stretch of what is bounded, or several where noise blurs them, counts as a normal scatter of its width.
template <typename Share>
double over_gaps(const SeenState& state, Share share) {
  if (state.gaps.empty()) return share(state.reading);
  double sum = 0.0;
  for (const Stretch& stretch : condensed(state.gaps, state.reading.before)) {
    laws::Clipped there = state.reading;
    there.mean += 0.5 * (stretch.from + stretch.to);
    there.before = std::hypot(there.before, (stretch.to - stretch.from) / std::sqrt(12.0));
    sum += stretch.share * share(there);
  }
  return std::min(1.0, sum);
}

/// The threshold lies so far from both limits that what comes behind them carries nothing over it: then they change
/// nothing, whatever lies beyond them.
bool limits_far(const laws::Clipped& reading, double threshold) {
  constexpr double beyond_all = 8.0;  // deviations
  return std::min(threshold - reading.low, reading.high - threshold) >= beyond_all * reading.after;
}

BoundedScatter as_if_free(const SeenState& state) {
  return {{state.reading.mean, std::hypot(state.reading.before, state.reading.after)}, state.gaps};
}

double reads_above(const SeenState& state, double threshold) {
  if (!state.gaps.empty() && limits_far(state.reading, threshold)) return share_above(as_if_free(state), threshold);
  return over_gaps(state, [&](const laws::Clipped& c) { return laws::share_above(c, threshold); });
}

double reads_below(const SeenState& state, double threshold) {
  if (!state.gaps.empty() && limits_far(state.reading, threshold)) return share_below(as_if_free(state), threshold);
  return over_gaps(state, [&](const laws::Clipped& c) { return laws::share_below(c, threshold); });
}

/// Where a falling function of vacuum becomes negative.
template <typename Function>
double crossing(double from, double to, Function falls) {
  while (to - from > 1e-6) {  // [Pa]
    const double middle = 0.5 * (from + to);
    if (middle <= from || middle >= to) break;
    (falls(middle) > 0.0 ? from : to) = middle;
  }
  return to;
}

}  // namespace

BoundedScatter unlimited(const SeenState& state) { return {held(state.reading), state.gaps}; }

double signal(const Seen& seen) { return held(seen.part.reading).mean - held(seen.open.reading).mean; }

double separation(const Seen& seen) { return separation(unlimited(seen.open), unlimited(seen.part)); }

laws::ErrorRates rates_of(const Seen& seen, double threshold) {
  return {reads_above(seen.open, threshold), reads_below(seen.part, threshold)};
}

double threshold_of(const Seen& seen) {
  const BoundedScatter open = unlimited(seen.open), part = unlimited(seen.part);
  const double between = best_threshold(open, part);
  if (is_free(seen)) return between;
  const laws::ErrorRates there = rates_of(seen, between);
  if (std::max(there.false_above, there.false_below) < next_to_never) return between;
  return lowest(open.normal.mean, part.normal.mean, [&](double threshold) {
    const laws::ErrorRates rates = rates_of(seen, threshold);
    return rates.false_above + rates.false_below;
  });
}

double equal_error(const Seen& seen) {
  if (!(signal(seen) > 0.0)) return 0.5;
  if (is_free(seen)) return laws::upper_tail(separation(seen));
  const auto lacks = [&](double threshold) {
    const laws::ErrorRates rates = rates_of(seen, threshold);
    return rates.false_above - rates.false_below;
  };
  const laws::ErrorRates rates =
      rates_of(seen, crossing(held(seen.open.reading).mean, held(seen.part.reading).mean, lacks));
  return std::max(rates.false_above, rates.false_below);
}

double safe_vacuum(const SeenState& part, double threshold, double allowed) {
  if (is_free(part)) {
    const BoundedScatter free = as_if_free(part);
    return threshold + (free.normal.mean - threshold_below(free, laws::deviations_for(allowed)));
  }
  const auto too_often = [&](double vacuum) {
    SeenState there = part;
    there.reading.mean = vacuum;
    return reads_below(there, threshold) - allowed;
  };
  return crossing(threshold, part.reading.mean, too_often);
}

double safe_vacuum_missed(const SeenState& open, double threshold, double allowed) {
  if (is_free(open)) {
    const BoundedScatter free = as_if_free(open);
    return threshold - (threshold_above(free, laws::deviations_for(allowed)) - free.normal.mean);
  }
  const auto seldom_enough = [&](double vacuum) {
    SeenState there = open;
    there.reading.mean = vacuum;
    return allowed - reads_above(there, threshold);
  };
  return crossing(open.reading.mean, threshold, seldom_enough);
}

}  // namespace airtally::study
