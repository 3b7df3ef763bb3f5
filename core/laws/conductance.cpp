#include "laws/conductance.hpp"

#include <cmath>
#include <numbers>

#include "laws/require.hpp"

namespace airtally::laws {

namespace {

constexpr double near_rest = 1e-3;            // 1 - r below which the cubic takes over
constexpr double choked_constant = 0.040418;  // m sqrt(T)/(A p) of choked air [sqrt(K) s/m]

/// A function of x = 1 - r and its slope.
struct Shape {
  double w;
  double dw_dx;
};

/// sqrt(1 - ((r - b)/(1 - b))^2) without the cancellation near rest: with z = x/(1 - b) it is sqrt(z (2 - z)).
Shape ellipse(double x, double b) {
  const double z = x / (1.0 - b);
  const double w = std::sqrt(z * (2.0 - z));
  return {w, (1.0 - z) / (w * (1.0 - b))};
}

/// a x + c x^3 through the ellipse's value and slope at x = near_rest.
Shape cubic(double x, double b) {
  const Shape at = ellipse(near_rest, b);
  const double rise = at.dw_dx * near_rest;
  const double a = (3.0 * at.w - rise) / (2.0 * near_rest);
  const double c = (rise - at.w) / (2.0 * near_rest * near_rest * near_rest);
  return {x * (a + c * x * x), a + 3.0 * c * x * x};
}

Shape shape(double x, double b) {
  if (x >= 1.0 - b) return {1.0, 0.0};
  return x < near_rest ? cubic(x, b) : ellipse(x, b);
}

}  // namespace

Flow conductance(const Conductance& path, const Ends& ends, const gas::Air& air) {
  if (ends.drop < 0.0) return reversed(conductance(path, {ends.p2, ends.p1, -ends.drop}, air));
  require_pressures(ends);
  require(path.c >= 0.0 && path.b >= 0.0 && path.b <= 0.95,
          "A conductance needs C that is not negative and b between 0 and 0.95.");
  const double k = path.c * gas::free_air_density * std::sqrt(gas::free_air_temperature / air.temperature);
  const Shape s = shape(ends.drop / ends.p1, path.b);
  return {k * ends.p1 * s.w, k * (s.w + s.dw_dx * ends.p2 / ends.p1), -k * s.dw_dx};
}

Conductance hole(double diameter, double discharge) {
  require(diameter > 0.0 && discharge >= 0.0 && discharge <= 1.0,
          "A hole needs a positive diameter and a discharge coefficient between 0 and 1.");
  const double area = discharge * 0.25 * std::numbers::pi * diameter * diameter;
  return {choked_constant * area / (gas::free_air_density * std::sqrt(gas::free_air_temperature)), 0.528};
}

}  // namespace airtally::laws
