#include "study/sense_decide.hpp"

#include <algorithm>
#include <cmath>

namespace airtally::study {
namespace {

constexpr double next_to_never = 1e-9;  // "never in a billion", as it is printed

/// Where the state is read on average if there were no noise, with all of its deviation.
laws::Scatter held(const laws::Clipped& c) {
  return {std::clamp(c.mean, c.low, c.high), std::hypot(c.before, c.after)};
}

bool is_free(const Seen& seen) { return laws::is_free(seen.open) && laws::is_free(seen.part); }

/// Least of a function with one valley between two ends, by the golden section.
template <typename Function>
double lowest(double from, double to, Function function) {
  const double golden = 0.5 * (std::sqrt(5.0) - 1.0);
  double a = to - golden * (to - from), b = from + golden * (to - from);
  double at_a = function(a), at_b = function(b);
  while (to - from > 1e-3) {  // [Pa]
    if (at_a <= at_b) {
      to = b;
      b = a;
      at_b = at_a;
      a = to - golden * (to - from);
      at_a = function(a);
    } else {
      from = a;
      a = b;
      at_a = at_b;
      b = from + golden * (to - from);
      at_b = function(b);
    }
  }
  return 0.5 * (from + to);
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

double signal(const Seen& seen) { return held(seen.part).mean - held(seen.open).mean; }

double separation(const Seen& seen) { return laws::separation(held(seen.open), held(seen.part)); }

laws::ErrorRates rates_of(const Seen& seen, double threshold) {
  return {laws::share_above(seen.open, threshold), laws::share_below(seen.part, threshold)};
}

double threshold_of(const Seen& seen) {
  const laws::Scatter open = held(seen.open), part = held(seen.part);
  const double between = laws::best_threshold(open, part);
  if (is_free(seen)) return between;
  const laws::ErrorRates there = rates_of(seen, between);
  if (std::max(there.false_above, there.false_below) < next_to_never) return between;
  return lowest(open.mean, part.mean, [&](double threshold) {
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
  const laws::ErrorRates rates = rates_of(seen, crossing(held(seen.open).mean, held(seen.part).mean, lacks));
  return std::max(rates.false_above, rates.false_below);
}

double safe_vacuum(const laws::Clipped& part, double threshold, double allowed) {
  if (laws::is_free(part)) return threshold + laws::deviations_for(allowed) * std::hypot(part.before, part.after);
  const auto too_often = [&](double vacuum) {
    laws::Clipped there = part;
    there.mean = vacuum;
    return laws::share_below(there, threshold) - allowed;
  };
  return crossing(threshold, part.mean, too_often);
}

double safe_vacuum_missed(const laws::Clipped& open, double threshold, double allowed) {
  if (laws::is_free(open)) return threshold - laws::deviations_for(allowed) * std::hypot(open.before, open.after);
  const auto seldom_enough = [&](double vacuum) {
    laws::Clipped there = open;
    there.mean = vacuum;
    return allowed - laws::share_above(there, threshold);
  };
  return crossing(open.mean, threshold, seldom_enough);
}

}  // namespace airtally::study
