#include "laws/detection.hpp"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <numbers>

#include "laws/require.hpp"

namespace airtally::laws {
namespace {

/// Without a detour by way of long double, whose tables would be made when the program starts.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
using Normal = boost::math::normal_distribution<double, InDouble>;

}  // namespace

double upper_tail(double deviations) { return boost::math::cdf(boost::math::complement(Normal(), deviations)); }

double deviations_for(double probability) {
  require(probability > 0.0 && probability < 1.0, "a probability lies between 0 and 1");
  return boost::math::quantile(boost::math::complement(Normal(), probability));
}

ErrorRates error_rates(const Scatter& below, const Scatter& above, double threshold) {
  require(below.deviation > 0.0 && above.deviation > 0.0, "a scatter needs a deviation above zero");
  return {upper_tail((threshold - below.mean) / below.deviation),
          upper_tail((above.mean - threshold) / above.deviation)};
}

double equal_error_threshold(const Scatter& below, const Scatter& above) {
  require(below.deviation > 0.0 && above.deviation > 0.0, "a scatter needs a deviation above zero");
  return (below.mean * above.deviation + above.mean * below.deviation) / (below.deviation + above.deviation);
}

double best_threshold(const Scatter& below, const Scatter& above) {
  require(below.deviation > 0.0 && above.deviation > 0.0, "a scatter needs a deviation above zero");
  require(below.mean < above.mean, "the state below must have the lower mean");
  // With u = t - below.mean and d the distance of the means:
  // u^2/s0^2 - (u - d)^2/s1^2 = 2 ln(s1/s0)  is  a u^2 + 2 b u - c = 0.
  const double d = above.mean - below.mean;
  const double s0 = below.deviation * below.deviation, s1 = above.deviation * above.deviation;
  const double a = s1 - s0, b = d * s0, c = d * d * s0 + s0 * s1 * std::log(s1 / s0);
  // The root between the means, in the form that keeps its digits when the deviations are nearly alike.
  const double inside = std::max(0.0, b * b + a * c);
  const double u = c / (b + std::sqrt(inside));
  return below.mean + std::clamp(u, 0.0, d);
}

double separation(const Scatter& below, const Scatter& above) {
  return (above.mean - below.mean) / (below.deviation + above.deviation);
}

double averaged(double deviation, double count) {
  require(count >= 1.0, "an average is over one reading or more");
  return deviation / std::sqrt(count);
}

double ripple_left(double frequency, double rate, double count) {
  require(frequency >= 0.0 && rate > 0.0 && count >= 1.0, "ripple: frequency, rate and count must make sense");
  const double sine = std::abs(std::sin(std::numbers::pi * frequency / rate));
  return count * sine > 1.0 ? 1.0 / (count * sine) : 1.0;
}

}  // namespace airtally::laws
