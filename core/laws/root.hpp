#pragma once
#include <algorithm>
#include <cmath>

#include "errors.hpp"
#include "laws/flow.hpp"

namespace airtally::laws {

/// A residual and its slope at one trial value.
struct Residual {
  double value;  ///< in any unit, the level's
  double slope;  ///< of the value, per unit of the trial value
  /// What the residual has beside a constant: value = level - constant. 0: not of that kind. Levels of flow laws go
  /// nearly as a power of the flow, which saves trials.
  double level = 0.0;
};

/// Newton's step on a residual whose level goes as a power n of x, n = x slope/level: to second order near the root,
/// in full far from it. Without a level Newton's own. In the unit of x.
inline double power_step(const Residual& r, double x) {
  const double newton = -r.value / r.slope;
  if (!(r.level > 0.0) || !(r.value < r.level)) return newton;
  const double off = -r.value / r.level, power = x * r.slope / r.level;
  if (std::abs(off) > 0.05) return x * std::expm1(std::log1p(off) / power);
  return newton * (1.0 + off * (1.0 - power) / (2.0 * power));
}

/// The root in [0, top] of a rising residual that is not positive at 0, by Newton's method kept inside a shrinking
/// bracket, in the unit of `top` and `start`; `top` itself if the residual is still negative there. Pure: `residual(x)`
/// is called with trial values only, the last of which lies within `close` of the root returned, as a share of it, so
/// whatever it computed on the way can serve for slopes.
///
/// Stop rule: a step below `close` of x is taken and ends the search, as its error is of the order of the step squared.
/// A step that leaves the bracket, or that is not half the one before, is replaced by halving the bracket: at worst 100
/// halvings. Throws: NoConvergence after 200 trials, which only a residual that is NaN can reach.
template <class F>
double rising_root(F&& residual, double top, double start, double close = exactly) {
  constexpr int most_trials = 200;
  double low = 0.0;
  double high = top;
  bool seen_above = false;  // whether the residual at `high` is known to be positive
  double x = std::clamp(start, 0.0, top);
  double last_step = top;
  for (int trial = 0; trial < most_trials; ++trial) {
    const Residual r = residual(x);
    if (r.value == 0.0) return x;
    if (r.value < 0.0) {
      if (x >= top) return top;
      low = x;
    } else {
      high = x;
      seen_above = true;
    }
    const double step = power_step(r, x);
    if (std::abs(step) <= close * x) return std::clamp(x + step, 0.0, top);
    const double next = x + step;
    if (!seen_above && next >= high) {
      x = high;
    } else if (next > low && next < high && std::abs(step) <= 0.5 * std::abs(last_step)) {
      x = next;
    } else {
      x = 0.5 * (low + high);
      if (high - low <= 4e-16 * high) return x;
    }
    last_step = step;
  }
  throw NoConvergence("A flow law found no root within 200 trials.");
}

}  // namespace airtally::laws
