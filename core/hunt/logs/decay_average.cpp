#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>

#include "hunt/logs/decay_average_private.hpp"

namespace airtally::hunt {
namespace {

/// Without a detour by way of long double, whose tables would be made when the program starts.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

constexpr double least_variance = 1e-12;  ///< of a row [Pa2]: what arithmetic leaves of none
constexpr int halvings = 100;             ///< enough for any two doubles; ends at once where they meet

/// Logarithm of S^-a gamma(a, S/(2 v)), but for what is alike for all S; v = 0: of S^-a.
double log_likelihood(double sum, double a, double v) {
  if (!(v > 0.0)) return -a * std::log(sum);
  const double x = sum / (2.0 * v);
  if (x > a + 1.0) return std::log(boost::math::gamma_p(a, x, InDouble())) + std::lgamma(a) - a * std::log(sum);
  // gamma(a, x) = x^a e^-x sum of x^k/(a (a+1) ... (a+k)); gamma_p would vanish here where a is large.
  double term = 1.0 / a, series = term;
  for (double k = 1.0; term > 1e-16 * series; ++k) series += term *= x / (a + k);
  return -a * std::log(2.0 * v) - x + std::log(series);
}

double quantile_of(std::span<const DecayCourse> courses, double share) {
  const boost::math::normal_distribution<double, InDouble> normal;
  const double z = boost::math::quantile(normal, share);
  double low = courses.front().rate + z * courses.front().deviation, high = low;
  for (const DecayCourse& one : courses) {
    low = std::min(low, one.rate + z * one.deviation);
    high = std::max(high, one.rate + z * one.deviation);
  }
  for (int i = 0; i < halvings && low < high; ++i) {
    const double middle = 0.5 * (low + high);
    double below = 0.0;
    for (const DecayCourse& one : courses)
      below += one.probability * (one.deviation > 0.0 ? boost::math::cdf(normal, (middle - one.rate) / one.deviation)
                                                      : (middle >= one.rate ? 1.0 : 0.0));
    (below < share ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

std::vector<double> probabilities(std::span<const FittedCourse> fits, std::size_t rows, double step) {
  std::vector<double> all;
  for (const FittedCourse& one : fits) {
    const double freedom = static_cast<double>(rows) - static_cast<double>(one.course.unknowns());
    const double sum = std::max(one.fit.sum, least_variance * static_cast<double>(rows));
    all.push_back(log_likelihood(sum, 0.5 * std::max(freedom, 1.0), step * step / 12.0));
  }
  const double most = *std::max_element(all.begin(), all.end());
  double total = 0.0;
  for (double& one : all) total += one = std::exp(one - most);
  for (double& one : all) one /= total;
  return all;
}

Spread90 averaged_rate(std::span<const DecayCourse> courses) {
  return {quantile_of(courses, 0.5), quantile_of(courses, 0.05), quantile_of(courses, 0.95)};
}

double averaged_deviation(std::span<const DecayCourse> courses) {
  double mean = 0.0, variance = 0.0;
  for (const DecayCourse& one : courses) mean += one.probability * one.rate;
  for (const DecayCourse& one : courses)
    variance += one.probability * (one.deviation * one.deviation + (one.rate - mean) * (one.rate - mean));
  return std::sqrt(variance);
}

}  // namespace airtally::hunt
