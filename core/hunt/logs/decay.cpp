#include "hunt/logs/decay.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "errors.hpp"
#include "hunt/beliefs/priors.hpp"
#include "hunt/logs/decay_average_private.hpp"

namespace airtally::hunt {
namespace {

/// Without a detour by way of long double, whose tables would be made when the program starts.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

constexpr double by_chance = 0.01;   ///< an improvement likelier than that is none
constexpr double gone = 0.05;        ///< share of the deepest vacuum below which next to none is left
constexpr double trace = 1e-6;       ///< of its error: what arithmetic leaves of no rate at all
constexpr std::size_t telling = 3;   ///< rows before that which a range needs: two fix a course, a third may object
constexpr double far_off = 3e3;      ///< by which no gauge scatters [Pa]; common practice, no source
constexpr double off_course = 0.01;  ///< share of the deepest vacuum beyond which a misfit is looked at
constexpr double times_noise = 3.0;  ///< and is no noise when it is that many times the rows' own

/// The rows from the deepest vacuum on: when, from there [s], and at what pressure [Pa, absolute].
struct Rows {
  std::vector<double> time, pressure;
};

/// Rate's error by a change of temperature and by the last digit over `lasted`, one standard deviation [Pa/s].
double by_drift_and_digit(const Decay& decay, double start, const gas::Site& site, double lasted) {
  return 0.5 * std::hypot(decay.drift * start / site.temperature, decay.log.step) / lasted;
}

/// Rows up to the first at which the vacuum is gone; all of them where it never is.
std::size_t until_gone(const Rows& rows, double ambient) {
  const double left = gone * (ambient - rows.pressure.front());
  const auto first = std::find_if(rows.pressure.begin(), rows.pressure.end(),
                                  [&](double pressure) { return ambient - pressure < left; });
  return static_cast<std::size_t>(first - rows.pressure.begin());
}

/// What a vacuum that is gone before a course can be fitted tells: on no course does air come in faster than at its
/// start, so that what came in up to any row is a least of the rate.
double least_rate(const Decay& decay, const Rows& rows, const gas::Site& site, std::size_t spent) {
  const double start = rows.pressure.front() / site.pressure, reference = 1.0 - leak_vacuum(site) / site.pressure;
  double share = 1.0;
  for (const Inflow inflow : {Inflow::laminar, Inflow::orifice})
    share = std::min(share, shape(inflow, reference) / shape(inflow, start));
  double least = 0.0;
  for (std::size_t k = 1; k <= spent; ++k) {
    const double rate = (rows.pressure[k] - rows.pressure[0]) / rows.time[k];
    least =
        std::max(least, share * (rate - z90 * by_drift_and_digit(decay, rows.pressure.front(), site, rows.time[k])));
  }
  return least;
}

/// Whether what is left between course and log is no more than the rows scatter among each other, or than a gauge may.
bool follows(const Rows& rows, double rms, double deepest) {
  double sum = 0.0;  // second differences: a smooth course has next to none, noise six times its variance
  for (std::size_t i = 1; i + 1 < rows.pressure.size(); ++i) {
    const double second = rows.pressure[i - 1] - 2.0 * rows.pressure[i] + rows.pressure[i + 1];
    sum += second * second;
  }
  const double noise = std::sqrt(sum / 6.0 / static_cast<double>(rows.pressure.size() - 2));
  return rms <= off_course * deepest || (rms <= far_off && rms <= times_noise * noise);
}

/// Whether a course needs a leak that lets air out into the room: gas out of a tube has then been taken for the bend
/// that any leak has as the vacuum goes.
bool leaks_outwards(const FittedCourse& outcome) {
  const std::size_t n = outcome.course.unknowns();
  const double own = outcome.fit.covariance.empty() ? 0.0 : std::sqrt(outcome.variance * outcome.fit.covariance[n + 1]);
  return outcome.fit.x[1] < -2.0 * own;
}

/// The course of each kind of leak at its best, the one that fits best first; the 1/t part only where the log asks for
/// it, and then in all.
std::vector<FittedCourse> best_courses(const Rows& rows, const gas::Site& site, Decay& decay) {
  const auto& [time, pressure] = rows;
  const double lasted = time.back(), rise = pressure.back() - pressure.front(), slope = rise / lasted;
  Course course{Inflow::laminar, true, false, site.pressure, 1.0 - leak_vacuum(site) / site.pressure};
  std::vector<FittedCourse> dry, wet;
  const auto better = [](const FittedCourse& a, const FittedCourse& b) { return a.fit.sum < b.fit.sum; };
  for (const Inflow inflow : {Inflow::laminar, Inflow::orifice}) {
    course.inflow = inflow;
    dry.push_back(run(course, time, pressure, {pressure.front(), slope}));
  }
  std::stable_sort(dry.begin(), dry.end(), better);
  if (!(rise > 0.0)) return dry;

  course.outgassing = true;
  for (const FittedCourse& one : dry) {
    course.inflow = one.course.inflow;
    FittedCourse both =
        run(course, time, pressure, {pressure.front(), 0.5 * slope, 0.2 * rise, std::log(0.05 * lasted)});
    const bool possible = both.fit.converged && both.fit.x[2] > 0.0 && !leaks_outwards(both);
    if (wet.empty() && !(possible && chance_of_gain(one, both, time.size()) < by_chance)) return dry;
    if (possible) wet.push_back(std::move(both));
  }
  std::stable_sort(wet.begin(), wet.end(), better);
  course.leak = false;
  const FittedCourse alone = run(course, time, pressure, {pressure.front(), 0.3 * rise, std::log(0.05 * lasted)});
  const FittedCourse& best = wet.front();
  decay.leak_shown = best.fit.x[1] > 0.0 && chance_of_gain(alone, best, time.size()) < by_chance;
  decay.outgassing = best.fit.x[2] * std::log1p(lasted * std::exp(-best.fit.x[3])) / rise;
  return wet;
}

/// A course's rate and its error: of the linear model at the optimum, the drift and the last digit. Taken as normal
/// with the width that its central 90 % have: no quantile that is asked for lies far from their ends.
DecayCourse course_of(const FittedCourse& fitted, double probability, const Rows& rows, const gas::Site& site,
                      const Decay& decay) {
  const std::size_t n = fitted.course.unknowns();
  const double freedom = std::max(static_cast<double>(rows.time.size()) - static_cast<double>(n), 1.0);
  const double own = fitted.fit.covariance.empty() ? fitted.fit.x[1] * fitted.fit.x[1]
                                                   : fitted.variance * fitted.fit.covariance[n + 1];
  const double reach =
      boost::math::quantile(boost::math::students_t_distribution<double, InDouble>(freedom), 0.95) * std::sqrt(own);
  const double others = by_drift_and_digit(decay, decay.start, site, rows.time.back());
  return {fitted.course.inflow, probability, fitted.fit.x[1], std::hypot(reach / z90, others)};
}

/// The central 90 % of the rate, whichever of the courses it is.
Spread90 rate_of(const Decay& decay) {
  const Spread90 rate = averaged_rate(decay.courses);
  if (!(rate.high > 0.0))
    throw BadInput(
        line::place_of(decay.log, decay.first),
        "the log shows no leak: after a first loss the vacuum grows again. Shut the line off behind the pump, let it "
        "stand, and log from there.");
  const double least = 0.5 * trace * (rate.high - rate.low);
  return {rate.median > least ? rate.median : 0.0, std::max(rate.low, 0.0), rate.high};
}

}  // namespace

Decay fit_decay(const line::Log& log, const gas::Site& site, double drift) {
  Decay decay;
  decay.log = log;
  decay.drift = drift;
  decay.first = static_cast<std::size_t>(std::max_element(log.vacuum.begin(), log.vacuum.end()) - log.vacuum.begin());
  const Position where = line::place_of(log, decay.first);
  const double deepest = log.vacuum[decay.first];
  if (!(deepest > 0.0)) throw BadInput(where, "the log shows no vacuum at all; there is nothing that could be lost.");
  const std::size_t count = log.time.size() - decay.first;
  if (count < line::fewest_decay_rows)
    throw BadInput(where,
                   fmt::format("the pump counts as shut off here, at the deepest vacuum; from here on the log has "
                               "{} row{}, and at least {} are needed.",
                               count, count == 1 ? "" : "s", line::fewest_decay_rows));
  Rows rows;
  for (std::size_t i = decay.first; i < log.time.size(); ++i) {
    rows.time.push_back(log.time[i] - log.time[decay.first]);
    rows.pressure.push_back(site.pressure - log.vacuum[i]);
  }
  const double rise = rows.pressure.back() - rows.pressure.front();
  decay.start = rows.pressure.front();
  decay.two_point_rate = rise / rows.time.back();
  decay.mean_pressure = 0.5 * (rows.pressure.front() + rows.pressure.back());
  const std::size_t spent = until_gone(rows, site.pressure);
  decay.least_only = spent < std::min(telling, rows.time.size());
  if (decay.least_only) {
    decay.rate = {0.0, least_rate(decay, rows, site, spent), 0.0};
  } else {
    const std::vector<FittedCourse> fits = best_courses(rows, site, decay);
    const FittedCourse& best = fits.front();
    decay.inflow = best.course.inflow;
    decay.start = best.fit.x[0];
    decay.rms = std::sqrt(best.fit.sum / static_cast<double>(rows.time.size()));
    decay.follows = follows(rows, decay.rms, deepest);
    for (const double t : rows.time) decay.fitted.push_back(site.pressure - best.course.at(best.fit.x, t));
    const std::vector<double> chances = probabilities(fits, rows.time.size(), log.step);
    for (std::size_t i = 0; i < fits.size(); ++i)
      decay.courses.push_back(course_of(fits[i], chances[i], rows, site, decay));
    decay.rate = rate_of(decay);
    decay.deviation = averaged_deviation(decay.courses);
  }
  decay.drift_alone = rise / decay.start * site.temperature;
  decay.drift_shown = decay.drift_alone < 2.0 * drift;
  return decay;
}

bool tells_inflow(const Decay& decay) {
  return !decay.courses.empty() && std::all_of(decay.courses.begin() + 1, decay.courses.end(),
                                               [](const DecayCourse& one) { return one.probability < too_likely; });
}

}  // namespace airtally::hunt
