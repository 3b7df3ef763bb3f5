#include "hunt/logs/rise_fit.hpp"

#include <cmath>

#include "errors.hpp"
#include "hunt/fit/least_squares.hpp"

namespace airtally::hunt {
namespace {

constexpr double log_step = 1e-4;         ///< of ln(factor), for slopes
constexpr double farthest = 4.0;          ///< |ln(factor)| beyond which no answer is looked for: 1/55 .. 55
constexpr double too_alike = 1.0 - 1e-4;  ///< correlation from which on the two can't be told apart
constexpr double too_vague = 1.0;         ///< error of ln(factor) from which on nothing is known of it

Misfit misfit(std::span<const double> model, const line::Log& log) {
  Misfit m;
  for (std::size_t i = 0; i < model.size(); ++i) {
    const double off = model[i] - log.vacuum[i];
    m.rms += off * off;
    if (std::fabs(off) > std::fabs(m.worst)) {
      m.worst = off;
      m.worst_at = log.time[i];
    }
  }
  m.rms = std::sqrt(m.rms / static_cast<double>(model.size()));
  return m;
}

}  // namespace

RiseFit fit_rise(const line::Line& line, std::span<const solve::TipState> tips, std::size_t element,
                 const line::Log& log, solve::Thermal thermal, int segments) {
  RiseFit result;
  result.log = log;
  result.element = element;
  const std::size_t n = log.time.size();
  const auto model = [&](double log_volume, double log_flow) {
    study::CourseOptions options;
    options.factors = {std::exp(log_volume), std::exp(log_flow)};
    options.thermal = thermal;
    options.segments = segments;
    return study::course(line, tips, element, log.time, options);
  };
  result.predicted = model(0.0, 0.0);
  result.before = misfit(result.predicted, log);

  const Residuals residuals = [&](std::span<const double> x, std::span<double> r, std::span<double> slopes) {
    if (std::fabs(x[0]) > farthest || std::fabs(x[1]) > farthest) return false;
    try {
      const std::vector<double> here = model(x[0], x[1]);
      for (std::size_t i = 0; i < n; ++i) r[i] = here[i] - log.vacuum[i];
      for (std::size_t u = 0; u < 2; ++u) {
        const double dv = u == 0 ? log_step : 0.0, ds = u == 1 ? log_step : 0.0;
        const std::vector<double> up = model(x[0] + dv, x[1] + ds), down = model(x[0] - dv, x[1] - ds);
        for (std::size_t i = 0; i < n; ++i) slopes[2 * i + u] = (up[i] - down[i]) / (2.0 * log_step);
      }
      return true;
    } catch (const NoConvergence&) {
      return false;
    }
  };
  const Fit fit = least_squares(n, {0.0, 0.0}, residuals, 60, 1e-6);
  if (!fit.converged || fit.covariance.empty() || n < 3) return result;
  const double noise = fit.sum / static_cast<double>(n - 2);
  const double error_volume = std::sqrt(noise * fit.covariance[0]), error_flow = std::sqrt(noise * fit.covariance[3]);
  result.correlation = fit.covariance[1] / std::sqrt(fit.covariance[0] * fit.covariance[3]);
  if (std::fabs(result.correlation) > too_alike || error_volume > too_vague || error_flow > too_vague) return result;
  const double volume = std::exp(fit.x[0]), flow = std::exp(fit.x[1]);
  result.volume = FittedFactor{volume, volume * error_volume};
  result.pump_flow = FittedFactor{flow, flow * error_flow};
  result.fitted = model(fit.x[0], fit.x[1]);
  result.after = misfit(result.fitted, log);
  return result;
}

}  // namespace airtally::hunt
