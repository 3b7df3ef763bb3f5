#include "laws/friction.hpp"

#include <cmath>

#include "laws/require.hpp"

namespace airtally::laws {

namespace {

double square(double x) { return x * x; }
double pow4(double x) { return square(square(x)); }
double pow16(double x) { return pow4(pow4(x)); }
double pow12(double x) { return pow4(x * square(x)); }

/// (1 + q)^(1/12) for q >= 0; where q is small, near laminar flow, by its series, whose next term is below rounding.
double twelfth_root(double q) {
  if (q < 1e-3) return 1.0 + q / 12.0 * (1.0 - q * 11.0 / 24.0 * (1.0 - q * 23.0 / 36.0 * (1.0 - q * 35.0 / 48.0)));
  return std::exp(std::log(1.0 + q) * (1.0 / 12.0));
}

}  // namespace

Friction churchill(double reynolds, double relative_roughness, double knudsen) {
  require(reynolds >= 0.0 && reynolds < 1e12, "Friction needs a Reynolds number between 0 and 1e12.");
  require(relative_roughness >= 0.0 && relative_roughness <= 0.1, "Relative roughness must lie between 0 and 0.1.");
  require(knudsen >= 0.0, "A Knudsen number must not be negative.");
  const double s = 1.0 + 8.0 * knudsen;
  const double per_s = 1.0 / s;
  const double laminar = 64.0 * per_s;
  if (reynolds * s < surely_laminar) return {laminar, 0.0, -8.0 * laminar * per_s, 0.0};

  // With q = (A + B)^-1.5/(8/(Re s))^12 the formula reads g = (64/s)(1 + q)^(1/12). The whole powers are written as
  // products, the others with logarithms: std::pow would cost several times as much. The rounding of 1 + q is of the
  // order of that of g, so log1p would gain nothing.
  const double per_re = 1.0 / reynolds;
  const double log_smooth = 0.9 * std::log(7.0 * per_re);
  double logarithm = -log_smooth, smooth_share = 1.0;  // the share of (7/Re)^0.9 in the sum with the roughness
  if (relative_roughness > 0.0) {
    const double smooth = std::exp(log_smooth);
    const double inside = smooth + 0.27 * relative_roughness;
    logarithm = -std::log(inside);
    smooth_share = smooth / inside;
  }
  const double a = pow16(2.457 * logarithm);
  const double b = pow16(37530.0 * per_re);
  const double sum = a + b;
  const double q = pow12(reynolds * s * 0.125) / (sum * std::sqrt(sum));
  const double g = laminar * twelfth_root(q);

  // A's own slope over A is 16/logarithm, which has no value where the logarithm is 0 and A with it.
  const double da_dlog = logarithm == 0.0 ? 0.0 : 16.0 * a / logarithm;
  const double dlnq_dlnre = 12.0 - 1.5 * (da_dlog * (0.9 * smooth_share) - 16.0 * b) / sum;
  const double per_1q = 1.0 / (1.0 + q);
  const double dg_dlnq = g * q * per_1q * (1.0 / 12.0);
  return {g, dg_dlnq * dlnq_dlnre * per_re, -8.0 * g * per_s * per_1q,
          dg_dlnq * 1.5 * da_dlog * (1.0 - smooth_share) / sum};
}

}  // namespace airtally::laws
