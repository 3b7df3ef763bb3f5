#include <Eigen/Dense>
#include <algorithm>
#include <span>

#include "hunt/fit/ridge.hpp"
#include "hunt/samples/normals_private.hpp"
#include "hunt/verdict/trial_private.hpp"

namespace airtally::hunt {

Trial::Trial(const Suspects& suspects, Evidence& evidence, std::size_t suspect)
    : evidence_(&evidence), held_(suspects.unknowns.size(), false) {
  for (const Unknown& unknown : suspects.unknowns)
    width_.push_back(unknown.element == suspect && unknown.what == What::leak ? wide : 1.0);
}

std::vector<std::size_t> Trial::free() const {
  std::vector<std::size_t> free;
  for (std::size_t k = 0; k < held_.size(); ++k)
    if (!held_[k]) free.push_back(k);
  return free;
}

Fit Trial::from(const std::vector<double>& start) const { return towards(start, {}, 30, 1e-5); }

Fit Trial::towards(const std::vector<double>& start, std::span<const double> aims, int limit, double tolerance) const {
  const std::size_t n = held_.size(), m = evidence_->size();
  const std::vector<std::size_t> free = this->free();
  std::vector<double> u, z = start, all(m * n);
  const auto aim = [&](std::size_t f) { return aims.empty() ? 0.0 : aims[m + f]; };
  for (std::size_t f = 0; f < free.size(); ++f) u.push_back(start[free[f]] / width_[free[f]] - aim(f));
  const auto z_of = [&](double u_f, std::size_t f) { return width_[free[f]] * (u_f + aim(f)); };
  const Residuals residuals = [&](std::span<const double> at, std::span<double> r, std::span<double> slopes) {
    for (std::size_t f = 0; f < free.size(); ++f) z[free[f]] = z_of(at[f], f);
    if (!evidence_->evaluate(z, r, all)) return false;
    for (std::size_t i = 0; i < m; ++i)
      for (std::size_t f = 0; f < free.size(); ++f)
        slopes[i * free.size() + f] = all[i * n + free[f]] * width_[free[f]];
    for (std::size_t i = 0; i < m && !aims.empty(); ++i) r[i] -= aims[i];
    return true;
  };
  Fit fit = ridge(m, std::move(u), residuals, limit, tolerance);
  for (std::size_t f = 0; f < free.size(); ++f) z[free[f]] = z_of(fit.x[f], f);
  fit.x = std::move(z);
  return fit;
}

std::vector<std::vector<double>> Trial::draws(const Fit& fit, std::uint64_t seed) const {
  constexpr int limit = 12;
  constexpr double tolerance = 1e-3;
  const auto count = static_cast<Eigen::Index>(evidence_->size() + free().size());
  std::vector<std::vector<double>> draws;
  Normals normals(seed);
  while (draws.size() < draws_each) {
    const Eigen::VectorXd aims = normals.normals(count);
    draws.push_back(towards(fit.x, {aims.data(), static_cast<std::size_t>(count)}, limit, tolerance).x);
    for (double& z : draws.back()) z = std::clamp(z, -end, end);
  }
  return draws;
}

}  // namespace airtally::hunt
