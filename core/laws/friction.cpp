#include "laws/friction.hpp"

#include <cmath>

#include "laws/require.hpp"

namespace airtally::laws {

namespace {

double square(double x) { return x * x; }
double pow4(double x) { return square(square(x)); }
double pow16(double x) { return pow4(pow4(x)); }
double pow12(double x) { return pow4(x * square(x)); }

}  // namespace

Friction churchill(double reynolds, double relative_roughness, double knudsen) {
  require(reynolds >= 0.0 && reynolds < 1e12, "Friction needs a Reynolds number between 0 and 1e12.");
  require(relative_roughness >= 0.0 && relative_roughness <= 0.1, "Relative roughness must lie between 0 and 0.1.");
  require(knudsen >= 0.0, "A Knudsen number must not be negative.");
  const double s = 1.0 + 8.0 * knudsen;
  const double laminar = 64.0 / s;
  if (reynolds * s < surely_laminar) return {laminar, 0.0, -8.0 * laminar / s};

  // With q = (A + B)^-1.5/(8/(Re s))^12 the formula reads g = (64/s)(1 + q)^(1/12). The whole powers are written as
  // products, the others with logarithms: std::pow would cost several times as much.
  const double smooth = std::exp(0.9 * std::log(7.0 / reynolds));
  const double inside = smooth + 0.27 * relative_roughness;
  const double logarithm = -std::log(inside);
  const double a = pow16(2.457 * logarithm);
  const double b = pow16(37530.0 / reynolds);
  const double q = pow12(reynolds * s / 8.0) / ((a + b) * std::sqrt(a + b));
  const double g = laminar * std::exp(std::log1p(q) / 12.0);

  const double dlna_dlnre = 16.0 * 0.9 * smooth / (inside * logarithm);
  const double dlnq_dlnre = 12.0 - 1.5 * (a * dlna_dlnre - 16.0 * b) / (a + b);
  const double turbulent = q / (1.0 + q);
  return {g, g * turbulent * dlnq_dlnre / (12.0 * reynolds), -8.0 * g / (s * (1.0 + q))};
}

}  // namespace airtally::laws
