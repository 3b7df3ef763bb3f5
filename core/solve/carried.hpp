#pragma once

namespace airtally::solve {

/// A relative temperature that a flow carries along, with its slopes.
struct Carried {
  double tau = 1.0;        ///< over the site's temperature [-]
  double by_before = 0.0,  ///< d tau/d before [-]
      by_up = 0.0,         ///< d tau/d up [-]
      by_down = 0.0;       ///< d tau/d down [-]
};

/// The temperature of air that crosses the middle of a piece of tube, to second order in the piece's length: tau at the
/// node that the flow comes from, plus half the slope there.
///
///   tau = up + s/2,  s = [a (b^2 + e) + b (a^2 + e)]/(a^2 + b^2 + 2 e),  a = up - before,  b = down - up,  e = 1e-6
///
/// `up`: the node that the flow comes from; `before`: the one before it in the same tube; `down`: where the flow goes.
/// Plain upwind (s = 0) is of first order only and smears what the air's cooling and warming did along a tube over its
/// length. s is the mean of both slopes where they are alike, and falls to the lesser of them at a front, so that no
/// new extremes arise: tau stays within a tenth of |a| or |b| of `up` where it is an extreme already, else between `up`
/// and `down`. Differences below sqrt(e), 0.3 K, count as smooth, which keeps the slopes continuous at rest.
/// Source: van Albada, van Leer and Roberts, Astron. Astrophys. 108 (1982) 76. Tested by tests/solve/carried_test.cpp.
inline Carried carried(double before, double up, double down) {
  constexpr double e = 1e-6;
  const double a = up - before, b = down - up;
  const double sum = a * a + b * b + 2.0 * e;
  const double s = (a * (b * b + e) + b * (a * a + e)) / sum;
  const double by_a = (b * b + e + 2.0 * b * a - 2.0 * a * s) / sum;
  const double by_b = (a * a + e + 2.0 * a * b - 2.0 * b * s) / sum;
  return {up + 0.5 * s, -0.5 * by_a, 1.0 + 0.5 * (by_a - by_b), 0.5 * by_b};
}

}  // namespace airtally::solve
