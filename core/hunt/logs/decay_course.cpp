#include <algorithm>
#include <boost/math/distributions/fisher_f.hpp>
#include <cmath>

#include "hunt/logs/decay_course_private.hpp"

namespace airtally::hunt {
namespace {

/// Without a detour by way of long double, whose tables would be made when the program starts.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

constexpr double critical = 0.528;
constexpr double step = 1e-5;  ///< for slopes, of each parameter's own size

/// p/p_amb after `time` from `ratio`, with d(ratio)/dt = rate at nothing (laminar) or when choked.
double ratio_after(Inflow inflow, double ratio, double rate, double time) {
  if (inflow == Inflow::laminar) return std::tanh(std::atanh(std::min(ratio, 1.0 - 1e-12)) + rate * time);
  if (ratio < critical) {
    const double until = (critical - ratio) / rate;
    if (rate <= 0.0 || until >= time) return ratio + rate * time;
    time -= until;
    ratio = critical;
  }
  const double angle = std::asin(std::min((ratio - critical) / (1.0 - critical), 1.0)) + rate * time / (1.0 - critical);
  return critical + (1.0 - critical) * std::sin(std::clamp(angle, -1.5, std::acos(0.0)));
}

}  // namespace

double shape(Inflow inflow, double ratio) {
  if (inflow == Inflow::laminar) return 1.0 - ratio * ratio;
  if (ratio <= critical) return 1.0;
  const double x = (ratio - critical) / (1.0 - critical);
  return std::sqrt(std::max(1.0 - x * x, 0.0));
}

double Course::at(std::span<const double> x, double time) const {
  double p = x[0];
  if (leak) {
    const double rate = x[1] / ambient / shape(inflow, reference);
    p = ambient * ratio_after(inflow, std::clamp(p / ambient, 1e-9, 1.0 - 1e-9), rate, time);
  }
  const std::size_t k = leak ? 2 : 1;
  if (outgassing) p += x[k] * std::log1p(time * std::exp(-x[k + 1]));
  return p;
}

FittedCourse run(const Course& course, std::span<const double> time, std::span<const double> pressure,
                 std::vector<double> start) {
  const std::size_t n = course.unknowns();
  const Residuals residuals = [&](std::span<const double> x, std::span<double> r, std::span<double> slopes) {
    std::vector<double> there(x.begin(), x.end());
    if (!(x[0] > 0.0 && x[0] < course.ambient)) return false;
    for (std::size_t i = 0; i < time.size(); ++i) r[i] = course.at(x, time[i]) - pressure[i];
    for (std::size_t k = 0; k < n; ++k) {
      const bool logarithm = course.outgassing && k + 1 == n;
      const double h = step * (k == 0 ? course.ambient : logarithm ? 1.0 : std::max(std::fabs(x[k]), 1e-3));
      for (const double sign : {1.0, -1.0}) {
        there[k] = x[k] + sign * h;
        for (std::size_t i = 0; i < time.size(); ++i) {
          const double p = course.at(there, time[i]);
          slopes[i * n + k] = sign > 0.0 ? p : (slopes[i * n + k] - p) / (2.0 * h);
        }
      }
      there[k] = x[k];
    }
    return true;
  };
  FittedCourse outcome{course, least_squares(time.size(), std::move(start), residuals, 400, 1e-9), 0.0};
  const double freedom = static_cast<double>(time.size()) - static_cast<double>(n);
  outcome.variance = freedom > 0.0 ? outcome.fit.sum / freedom : 0.0;
  return outcome;
}

double chance_of_gain(const FittedCourse& less, const FittedCourse& more, std::size_t rows) {
  const double extra = static_cast<double>(more.course.unknowns()) - static_cast<double>(less.course.unknowns());
  const double freedom = static_cast<double>(rows) - static_cast<double>(more.course.unknowns());
  const double gain = less.fit.sum - more.fit.sum;
  if (!(freedom > 0.0) || !(gain > 0.0)) return 1.0;
  const double f = gain / extra / std::max(more.fit.sum / freedom, 1e-12);
  return boost::math::cdf(
      boost::math::complement(boost::math::fisher_f_distribution<double, InDouble>(extra, freedom), f));
}

}  // namespace airtally::hunt
