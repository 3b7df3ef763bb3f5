#include "hunt/fit/least_squares.hpp"

#include <Eigen/Dense>
#include <unsupported/Eigen/NonLinearOptimization>

namespace airtally::hunt {
namespace {

/// What Eigen's solver asks for. It wants residuals and slopes in two calls at the same point; ours come together.
struct Functor {
  Eigen::Index count;
  Eigen::Index unknowns;
  const Residuals* residuals;
  Eigen::VectorXd x, r;
  Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> slopes;
  int evaluations = 0;

  using Scalar = double;
  Eigen::Index values() const { return count; }
  Eigen::Index inputs() const { return unknowns; }

  bool at(const Eigen::VectorXd& point) {
    if (x.size() == point.size() && x == point) return true;
    ++evaluations;
    r.resize(count);
    slopes.resize(count, unknowns);
    const auto span = [](auto& m) { return std::span<double>(m.data(), static_cast<std::size_t>(m.size())); };
    const std::span<const double> where(point.data(), static_cast<std::size_t>(point.size()));
    if (!(*residuals)(where, span(r), span(slopes)) || !r.allFinite() || !slopes.allFinite()) {
      x.resize(0);
      return false;
    }
    x = point;
    return true;
  }
  int operator()(const Eigen::VectorXd& point, Eigen::VectorXd& out) {
    // A point that can't be solved counts as very bad, so that the step is shortened.
    if (at(point))
      out = r;
    else
      out.setConstant(1e30);
    return 0;
  }
  int df(const Eigen::VectorXd& point, Eigen::MatrixXd& out) {
    if (!at(point)) return -1;
    out = slopes;
    return 0;
  }
};

}  // namespace

Fit least_squares(std::size_t count, std::vector<double> start, const Residuals& residuals, int limit,
                  double tolerance) {
  const auto n = static_cast<Eigen::Index>(start.size());
  Functor functor{static_cast<Eigen::Index>(count), n, &residuals, {}, {}, {}, 0};
  Eigen::VectorXd x = Eigen::Map<const Eigen::VectorXd>(start.data(), n);
  Eigen::LevenbergMarquardt<Functor> solver(functor);
  solver.parameters.factor = 1.0;  // MINPACK's first step of 100 times |x| overshoots exponentials
  solver.parameters.maxfev = limit;
  solver.parameters.ftol = solver.parameters.xtol = tolerance;
  solver.parameters.gtol = 0.0;
  const auto status = solver.minimize(x);
  Fit fit;
  using Status = Eigen::LevenbergMarquardtSpace::Status;
  fit.converged = status == Status::RelativeReductionTooSmall || status == Status::RelativeErrorTooSmall ||
                  status == Status::RelativeErrorAndReductionTooSmall || status == Status::CosinusTooSmall ||
                  status == Status::FtolTooSmall || status == Status::XtolTooSmall;
  fit.x.assign(x.data(), x.data() + n);
  if (functor.at(x)) {
    fit.sum = functor.r.squaredNorm();
    const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(functor.slopes);
    if (qr.rank() == n) {
      const Eigen::MatrixXd inverse_r =
          qr.matrixR().topLeftCorner(n, n).triangularView<Eigen::Upper>().solve(Eigen::MatrixXd::Identity(n, n));
      const Eigen::MatrixXd half = qr.colsPermutation() * inverse_r;
      const Eigen::MatrixXd covariance = half * half.transpose();
      fit.covariance.assign(covariance.data(), covariance.data() + n * n);
    }
  } else {
    fit.converged = false;
    fit.sum = 1e60 * static_cast<double>(count);
  }
  fit.evaluations = functor.evaluations;
  return fit;
}

}  // namespace airtally::hunt
