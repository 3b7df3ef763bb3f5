#include "laws/monotone_cubic.hpp"

// Boost 1.74's interpolators call isnan unqualified: the C header brings it into the global namespace.
#include <math.h>  // NOLINT(modernize-deprecated-headers): for the reason above

#include <algorithm>
#include <boost/math/interpolators/cubic_hermite.hpp>
#include <cmath>

#include "laws/require.hpp"

namespace airtally::laws {

namespace {

/// Weighted harmonic mean of two chords' slopes; zero where they differ in sign.
double inner_slope(double before, double after, double chord_before, double chord_after) {
  if (chord_before * chord_after <= 0.0) return 0.0;
  const double w1 = 2.0 * after + before;
  const double w2 = after + 2.0 * before;
  return (w1 + w2) / (w1 / chord_before + w2 / chord_after);
}

/// Slope at an end of the parabola through three points, the nearest chord first; none against that chord, and at most
/// three times it, the limit for a monotone cubic.
double end_slope(double near, double far, double chord_near, double chord_far) {
  const double s = ((2.0 * near + far) * chord_near - near * chord_far) / (near + far);
  if (s * chord_near <= 0.0) return 0.0;
  return std::abs(s) > 3.0 * std::abs(chord_near) ? 3.0 * chord_near : s;
}

std::vector<double> slopes(const std::vector<double>& x, const std::vector<double>& y, MonotoneCubic::LastSlope last) {
  const std::size_t n = x.size();
  std::vector<double> width(n - 1);
  std::vector<double> chord(n - 1);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    width[i] = x[i + 1] - x[i];
    chord[i] = (y[i + 1] - y[i]) / width[i];
  }
  if (n == 2) return {chord[0], chord[0]};
  std::vector<double> s(n);
  for (std::size_t i = 1; i + 1 < n; ++i) s[i] = inner_slope(width[i - 1], width[i], chord[i - 1], chord[i]);
  s[0] = end_slope(width[0], width[1], chord[0], chord[1]);
  s[n - 1] = end_slope(width[n - 2], width[n - 3], chord[n - 2], chord[n - 3]);
  if (last == MonotoneCubic::LastSlope::never_flat && std::abs(s[n - 1]) < std::abs(chord[n - 2]))
    s[n - 1] = chord[n - 2];
  return s;
}

bool usable(const std::vector<double>& x, const std::vector<double>& y) {
  if (x.size() < 2 || x.size() != y.size()) return false;
  for (std::size_t i = 0; i < x.size(); ++i) {
    if (!std::isfinite(x[i]) || !std::isfinite(y[i])) return false;
    if (i > 0 && x[i] <= x[i - 1]) return false;
  }
  return true;
}

}  // namespace

struct MonotoneCubic::Curve {
  Curve(std::vector<double> x, std::vector<double> y, std::vector<double> s)
      : first(x.front()), last(x.back()), through(std::move(x), std::move(y), std::move(s)) {}
  double first;
  double last;
  boost::math::interpolators::cubic_hermite<std::vector<double>> through;
};

MonotoneCubic::MonotoneCubic(std::vector<double> x, std::vector<double> y, LastSlope last) {
  require(usable(x, y), "A curve needs at least two points with finite values and rising abscissas.");
  std::vector<double> s = slopes(x, y, last);
  curve_ = std::make_shared<const Curve>(std::move(x), std::move(y), std::move(s));
}

double MonotoneCubic::first() const { return curve_->first; }
double MonotoneCubic::last() const { return curve_->last; }
double MonotoneCubic::value(double x) const { return curve_->through(x); }
double MonotoneCubic::slope(double x) const { return curve_->through.prime(x); }

}  // namespace airtally::laws
