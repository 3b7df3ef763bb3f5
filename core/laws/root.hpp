#pragma once
#include <algorithm>
#include <cmath>

#include "errors.hpp"

namespace airtally::laws {

/// A residual and its slope at one trial value.
struct Residual {
  double value;
  double slope;
};

/// The root in [0, top] of a rising residual that is not positive at 0, by Newton's method kept inside a shrinking
/// bracket; `top` itself if the residual is still negative there. Pure: `residual(x)` is called with trial values only,
/// the last of which lies within 1e-8 of the root returned, so whatever it computed on the way can serve for slopes.
///
/// Stop rule: a Newton step below 1e-8 of x is taken and ends the search, as its error is of the order of the step
/// squared. A step that leaves the bracket, or that is not half the one before, is replaced by halving the bracket: at
/// worst 100 halvings. Throws: NoConvergence after 200 trials, which only a residual that is NaN can reach.
template <class F>
double rising_root(F&& residual, double top, double start) {
  constexpr double close_enough = 1e-8;
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
    const double step = -r.value / r.slope;
    if (std::abs(step) <= close_enough * x) return std::clamp(x + step, 0.0, top);
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
