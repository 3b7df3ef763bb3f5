#pragma once
#include <functional>
#include <span>
#include <vector>

namespace airtally::hunt {

/// A least-squares problem: residuals r(x) and, row by row, their slopes dr/dx, in any units. False where r can't be
/// had.
using Residuals = std::function<bool(std::span<const double> x, std::span<double> r, std::span<double> slopes)>;

/// Where a fit ends.
struct Fit {
  std::vector<double> x;           ///< the best point
  double sum = 0.0;                ///< of squares of the residuals at x
  std::vector<double> covariance;  ///< (J^T J)^-1 at x, row by row; empty when J lacks rank
  int evaluations = 0;             ///< of the residuals with their slopes
  bool converged = false;          ///< to working precision: no step lowers the sum any more
};

/// Minimises the sum of squares of `count` >= x.size() residuals from `start`.
///
/// Levenberg-Marquardt as in MINPACK's lmder (More, Garbow and Hillstrom 1980), in the version that comes with Eigen:
/// a trust region scaled by the columns, forty years of use, and nothing to install; Ceres would do it as well but
/// brings a dozen libraries for problems of thirty unknowns. Bounded by `limit` evaluations. `tolerance`: relative, of
/// the sum and of x, at which it ends. Tested on the NIST StRD sets by tests/hunt/least_squares_test.cpp.
Fit least_squares(std::size_t count, std::vector<double> start, const Residuals& residuals, int limit = 400,
                  double tolerance = 1e-10);

}  // namespace airtally::hunt
