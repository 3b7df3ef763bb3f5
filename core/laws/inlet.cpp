#include "laws/inlet.hpp"

#include <cmath>

#include "gas/air.hpp"

namespace airtally::laws {

namespace {

using gas::gamma;

constexpr double half_gamma = 0.5 * gamma;
static_assert(gamma == 1.4, "x^(gamma/(gamma-1)) is written below as x^3 sqrt(x).");

}  // namespace

Inlet inlet_at(double mach, double p1, double entrance, double sonic) {
  const double y = mach * mach;
  const double x = 1.0 + half_excess * y;
  const double root = std::sqrt(x);
  const double x3 = x * x * x;
  const double x35 = x3 * root;
  const double denominator = x35 + entrance * half_gamma * y;
  const double pi = p1 / denominator;
  // x^3.5 - 1 without cancellation: (x^7 - 1)/(x^3.5 + 1), and x^7 - 1 = (x - 1)(1 + x + ... + x^6).
  const double sum = 1.0 + x * (1.0 + x * (1.0 + x * (1.0 + x * (1.0 + x * (1.0 + x)))));
  const double dln_pi = -gamma * mach * (x * x * root + entrance) / denominator;
  const double dln_x = 2.0 * half_excess * mach / x;
  Inlet in;
  in.loss = pi * (half_excess * y * sum / (x35 + 1.0) + entrance * half_gamma * y);
  in.dense = pi * x;
  in.flux = pi * mach * sonic * root;
  in.d_dense = in.dense * (dln_pi + dln_x);
  in.d_flux = pi * sonic * root * (1.0 + mach * (dln_pi + 0.5 * dln_x));
  return in;
}

// The equation's left side less its right one falls and is concave in y, so Newton's method can't fail; the start is
// within 3 % for K up to 1.
double largest_mach(double entrance) {
  double y = 1.0 / (1.0 + 0.41 * entrance);
  for (int i = 0; i < 50; ++i) {
    const double x = 1.0 + half_excess * y;
    const double x25 = x * x * std::sqrt(x);
    const double value = x25 * x * (1.0 - y) - entrance * half_gamma * y;
    const double slope = half_gamma * x25 * (1.0 - y) - x25 * x - entrance * half_gamma;
    const double step = value / slope;
    y -= step;
    if (std::abs(step) <= 1e-9 * y) break;  // the flow is at its maximum: the error enters squared
  }
  return std::sqrt(y);
}

}  // namespace airtally::laws
