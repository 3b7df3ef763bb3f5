#include "hunt/fit/ridge.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>

namespace airtally::hunt {
namespace {

using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
using Vector = Eigen::VectorXd;

constexpr double never = std::numeric_limits<double>::infinity();

/// A point with its residuals and their slopes.
struct Point {
  Vector u, r;
  Matrix slopes;
  double sum = never;  ///< of all squares; infinite where the residuals can't be had

  void evaluate(const Residuals& residuals, int& evaluations) {
    ++evaluations;
    const auto span = [](auto& m) { return std::span<double>(m.data(), static_cast<std::size_t>(m.size())); };
    const bool had =
        residuals(std::span<const double>(u.data(), static_cast<std::size_t>(u.size())), span(r), span(slopes));
    sum = had && r.allFinite() && slopes.allFinite() ? r.squaredNorm() + u.squaredNorm() : never;
  }
};

/// The quadratic model at a point, |r + J d|^2 + |u + d|^2, by the eigenvalues of what J sees.
class Model {
 public:
  explicit Model(const Point& at) : at_(at), gradient_(at.slopes.transpose() * at.r + at.u) {
    const bool wide = at.slopes.rows() <= at.slopes.cols();
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(
        wide ? Eigen::MatrixXd(at.slopes * at.slopes.transpose()) : Eigen::MatrixXd(at.slopes.transpose() * at.slopes));
    values_ = solver.eigenvalues().cwiseMax(0.0);
    // Directions that the residuals see, of unit length where they see anything.
    if (wide) {
      const double longest = std::sqrt(values_.maxCoeff());
      directions_ = at.slopes.transpose() * solver.eigenvectors();
      for (Eigen::Index i = 0; i < values_.size(); ++i) {
        const double length = std::sqrt(values_[i]);
        if (length > 1e-12 * longest)
          directions_.col(i) /= length;
        else
          directions_.col(i).setZero();
      }
    } else {
      directions_ = solver.eigenvectors();
    }
    along_ = directions_.transpose() * gradient_;
    unseen_ = gradient_ - directions_ * along_;
  }

  /// Length of the step that `damping` >= 0 beyond the weights leaves.
  double length(double damping) const {
    const Eigen::ArrayXd part = along_.array() / (1.0 + damping + values_.array());
    return std::sqrt(part.square().sum() + unseen_.squaredNorm() / ((1.0 + damping) * (1.0 + damping)));
  }
  /// The step of at most `radius` that lowers the model most.
  Vector step(double radius) const {
    double damping = 0.0;
    if (length(0.0) > radius) {
      // 1/length is nearly straight in the damping: Newton's steps from the left don't overshoot.
      for (int k = 0; k < 20; ++k) {
        const double now = length(damping);
        if (std::fabs(now - radius) <= 0.01 * radius) break;
        const Eigen::ArrayXd below = 1.0 + damping + values_.array();
        const double fall =
            ((along_.array().square() / below.cube()).sum() + unseen_.squaredNorm() / std::pow(1.0 + damping, 3)) / now;
        damping = std::max(0.0, damping + (now / radius - 1.0) * now / fall);
      }
    }
    return -(directions_ * (along_.array() / (1.0 + damping + values_.array())).matrix() + unseen_ / (1.0 + damping));
  }
  /// By how much a step lowers the model's sum.
  double fall(const Vector& step) const {
    return at_.sum - (at_.r + at_.slopes * step).squaredNorm() - (at_.u + step).squaredNorm();
  }

 private:
  const Point& at_;
  Vector gradient_, values_, along_, unseen_;
  Eigen::MatrixXd directions_;
};

}  // namespace

Fit ridge(std::size_t count, std::vector<double> start, const Residuals& residuals, int limit, double tolerance) {
  const auto n = static_cast<Eigen::Index>(start.size()), m = static_cast<Eigen::Index>(count);
  Fit fit;
  if (n == 0 || m == 0) {  // nothing to hold, or nothing that pulls
    std::vector<double> r(count);
    fit.x.assign(start.size(), 0.0);
    fit.converged = m == 0 || residuals({}, r, {});
    for (const double one : r) fit.sum += one * one;
    return fit;
  }
  Point here;
  here.u = Eigen::Map<const Vector>(start.data(), n);
  here.r.resize(m);
  here.slopes.resize(m, n);
  here.evaluate(residuals, fit.evaluations);
  Point there = here;
  double radius = 1.0;  // a width of the weights'
  while (std::isfinite(here.sum) && !fit.converged && fit.evaluations < limit) {
    const Model model(here);
    for (bool moved = false; !moved && !fit.converged && fit.evaluations < limit;) {
      const Vector step = model.step(radius);
      const double length = step.norm(), promised = model.fall(step);
      there.u = here.u + step;
      there.evaluate(residuals, fit.evaluations);
      const double fell = here.sum - there.sum, ratio = promised > 0.0 ? fell / promised : 0.0;
      fit.converged = std::fabs(fell) <= tolerance * here.sum && promised <= tolerance * here.sum && ratio <= 2.0;
      if (!(ratio > 0.25))
        radius = (std::isfinite(there.sum) && fell >= 0.0 ? 0.5 : 0.25) * std::min(radius, length);
      else if (ratio >= 0.75 || length < 0.98 * radius)
        radius = std::max(radius, 2.0 * length);
      if (radius <= tolerance * std::max(1e-3, here.u.norm())) fit.converged = true;
      moved = ratio >= 1e-4;
      if (moved) std::swap(here, there);
    }
  }
  fit.x.assign(here.u.data(), here.u.data() + n);
  fit.sum = std::isfinite(here.sum) ? here.sum : 1e60 * static_cast<double>(count);
  return fit;
}

}  // namespace airtally::hunt
