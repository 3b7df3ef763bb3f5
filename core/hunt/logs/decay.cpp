#include "hunt/logs/decay.hpp"

#include <algorithm>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "errors.hpp"
#include "gas/air.hpp"
#include "hunt/beliefs/priors.hpp"
#include "hunt/fit/least_squares.hpp"

namespace airtally::hunt {
namespace {

/// Without a detour by way of long double, whose tables would be made when the program starts.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

constexpr double critical = 0.528;
constexpr double step = 1e-5;       ///< for slopes, of each parameter's own size
constexpr double by_chance = 0.01;  ///< an improvement likelier than that is none
constexpr double z90 = 1.6448536269514722;

/// The shape of a leak's inflow over pressure, 1 when choked or at nothing.
double shape(Inflow inflow, double ratio) {
  if (inflow == Inflow::laminar) return 1.0 - ratio * ratio;
  if (ratio <= critical) return 1.0;
  const double x = (ratio - critical) / (1.0 - critical);
  return std::sqrt(std::max(1.0 - x * x, 0.0));
}

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

/// What is fitted: start pressure, leak's rate at the reference, and the 1/t part's A and ln t0.
struct Model {
  Inflow inflow = Inflow::laminar;
  bool leak = true;
  bool outgassing = false;
  double ambient = 0.0, reference = 0.0;

  std::size_t unknowns() const { return 1 + (leak ? 1 : 0) + (outgassing ? 2 : 0); }
  double at(std::span<const double> x, double time) const {
    double p = x[0];
    if (leak) {
      const double rate = x[1] / ambient / shape(inflow, reference);
      p = ambient * ratio_after(inflow, std::clamp(p / ambient, 1e-9, 1.0 - 1e-9), rate, time);
    }
    const std::size_t k = leak ? 2 : 1;
    if (outgassing) p += x[k] * std::log1p(time * std::exp(-x[k + 1]));
    return p;
  }
};

struct Outcome {
  Model model;
  Fit fit;
  double variance = 0.0;  ///< of one reading
};

Outcome run(const Model& model, std::span<const double> time, std::span<const double> pressure,
            std::vector<double> start) {
  const std::size_t n = model.unknowns();
  const Residuals residuals = [&](std::span<const double> x, std::span<double> r, std::span<double> slopes) {
    std::vector<double> there(x.begin(), x.end());
    if (!(x[0] > 0.0 && x[0] < model.ambient)) return false;
    for (std::size_t i = 0; i < time.size(); ++i) r[i] = model.at(x, time[i]) - pressure[i];
    for (std::size_t k = 0; k < n; ++k) {
      const bool logarithm = model.outgassing && k + 1 == n;
      const double h = step * (k == 0 ? model.ambient : logarithm ? 1.0 : std::max(std::fabs(x[k]), 1e-3));
      for (const double sign : {1.0, -1.0}) {
        there[k] = x[k] + sign * h;
        for (std::size_t i = 0; i < time.size(); ++i) {
          const double p = model.at(there, time[i]);
          slopes[i * n + k] = sign > 0.0 ? p : (slopes[i * n + k] - p) / (2.0 * h);
        }
      }
      there[k] = x[k];
    }
    return true;
  };
  Outcome outcome{model, least_squares(time.size(), std::move(start), residuals, 400, 1e-9), 0.0};
  const double freedom = static_cast<double>(time.size()) - static_cast<double>(n);
  outcome.variance = freedom > 0.0 ? outcome.fit.sum / freedom : 0.0;
  return outcome;
}

/// Chance that `more`, with as many unknowns more as it has, fits better than `less` by so much when `less` is right.
double chance_of_gain(const Outcome& less, const Outcome& more, std::size_t rows) {
  const double extra = static_cast<double>(more.model.unknowns()) - static_cast<double>(less.model.unknowns());
  const double freedom = static_cast<double>(rows) - static_cast<double>(more.model.unknowns());
  const double gain = less.fit.sum - more.fit.sum;
  if (!(freedom > 0.0) || !(gain > 0.0)) return 1.0;
  const double f = gain / extra / std::max(more.fit.sum / freedom, 1e-12);
  return boost::math::cdf(
      boost::math::complement(boost::math::fisher_f_distribution<double, InDouble>(extra, freedom), f));
}

Spread90 product(const Spread90& a, double value, double relative, double factor) {
  // In logarithms: both are positive, and the shares of their errors add up as squares.
  const auto share = [&](double end) {
    const double own = end > 0.0 && a.median > 0.0 ? std::log(end / a.median) : 0.0;
    return std::exp(std::hypot(own, z90 * relative));
  };
  // Without a best value there is none to measure the limits' own error from: the two errors add up.
  if (!(a.median > 0.0))
    return {0.0, a.low * value * factor * std::exp(-z90 * relative),
            a.high * value * factor * std::exp(z90 * relative)};
  const double median = a.median * value * factor;
  return {median, a.low > 0.0 ? median / share(a.low) : 0.0, median * share(a.high)};
}

}  // namespace

Decay fit_decay(const line::Log& log, const gas::Site& site, double drift) {
  Decay decay;
  decay.log = log;
  decay.drift = drift;
  decay.first = static_cast<std::size_t>(std::max_element(log.vacuum.begin(), log.vacuum.end()) - log.vacuum.begin());
  const Position where{log.file, 0, 0};
  if (!(log.vacuum[decay.first] > 0.0))
    throw BadInput(where, "shows no vacuum at all; there is nothing that could be lost.");
  if (log.time.size() < decay.first + 5)
    throw BadInput(where, "has fewer than five rows behind its deepest vacuum, where the pump counts as shut off.");
  std::vector<double> time, pressure;
  for (std::size_t i = decay.first; i < log.time.size(); ++i) {
    time.push_back(log.time[i] - log.time[decay.first]);
    pressure.push_back(site.pressure - log.vacuum[i]);
  }
  const double lasted = time.back(), rise = pressure.back() - pressure.front();
  if (!(rise > 0.0)) throw BadInput(where, "shows no loss of vacuum; there is nothing to tell a leak by.");
  const double slope = rise / lasted;
  const Model laminar{Inflow::laminar, true, false, site.pressure, 1.0 - leak_vacuum(site) / site.pressure};
  Model orifice = laminar;
  orifice.inflow = Inflow::orifice;
  Outcome best = run(laminar, time, pressure, {pressure.front(), slope});
  if (Outcome other = run(orifice, time, pressure, {pressure.front(), slope}); other.fit.sum < best.fit.sum)
    best = std::move(other);

  Model gas = best.model;
  gas.outgassing = true;
  Outcome both = run(gas, time, pressure, {pressure.front(), 0.5 * slope, 0.2 * rise, std::log(0.05 * lasted)});
  if (both.fit.converged && both.fit.x[2] > 0.0 && chance_of_gain(best, both, time.size()) < by_chance) {
    gas.leak = false;
    const Outcome alone = run(gas, time, pressure, {pressure.front(), 0.3 * rise, std::log(0.05 * lasted)});
    decay.leak_shown = both.fit.x[1] > 0.0 && chance_of_gain(alone, both, time.size()) < by_chance;
    decay.outgassing = both.fit.x[2] * std::log1p(lasted * std::exp(-both.fit.x[3])) / rise;
    best = std::move(both);
  }
  decay.inflow = best.model.inflow;
  decay.start = best.fit.x[0];
  decay.rms = std::sqrt(best.fit.sum / static_cast<double>(time.size()));
  for (double t : time) decay.fitted.push_back(site.pressure - best.model.at(best.fit.x, t));

  const std::size_t n = best.model.unknowns();
  const double freedom = std::max(static_cast<double>(time.size()) - static_cast<double>(n), 1.0);
  const double own =
      best.fit.covariance.empty() ? best.fit.x[1] * best.fit.x[1] : best.variance * best.fit.covariance[n + 1];
  const double by_drift = 0.5 * drift * decay.start / site.temperature / lasted;
  const double reach =
      boost::math::quantile(boost::math::students_t_distribution<double, InDouble>(freedom), 0.95) * std::sqrt(own);
  const double half = std::hypot(reach, z90 * by_drift);
  if (!(best.fit.x[1] + half > 0.0))
    throw BadInput(
        where,
        "shows no leak: after a first loss the vacuum grows again. Shut the line off behind the pump, let it "
        "stand, and log from there.");
  decay.rate = {std::max(best.fit.x[1], 0.0), std::max(best.fit.x[1] - half, 0.0), best.fit.x[1] + half};
  decay.drift_alone = rise / decay.start * site.temperature;
  decay.drift_shown = decay.drift_alone < 2.0 * drift;
  decay.two_point_rate = slope;
  decay.mean_pressure = 0.5 * (pressure.front() + pressure.back());
  return decay;
}

Spread90 leak_of(const Decay& decay, const units::Quantity& volume, const gas::Site& site) {
  return product(decay.rate, volume.value, volume.standard_deviation() / volume.value,
                 1.0 / (gas::R * site.temperature));
}

Spread90 volume_of(const Decay& decay, const units::Quantity& leak, const gas::Site& site) {
  // V = m R T/s: the slower the rise, the larger the volume.
  const Spread90& s = decay.rate;
  const auto inverse = [](double rate) { return rate > 0.0 ? 1.0 / rate : 0.0; };
  Spread90 volume = product({inverse(s.median), inverse(s.high), inverse(s.low)}, leak.value,
                            leak.standard_deviation() / leak.value, gas::R * site.temperature);
  if (!(s.low > 0.0)) volume.high = 0.0;
  return volume;
}

}  // namespace airtally::hunt
