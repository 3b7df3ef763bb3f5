#pragma once
#include "hunt/fit/least_squares.hpp"

namespace airtally::hunt {

/// Minimises |r(u)|^2 + |u|^2, of `count` residuals r and unknowns u that are held to nought with unit weight each, as
/// readings and priors make it. Slopes are of r alone. Where few readings meet many unknowns this is what
/// least_squares() does with u appended to r, at a fraction of its algebra: a step needs the eigenvalues of J J^T, of
/// the size of the readings, and no factor of a matrix with a row for each of both.
///
/// A trust region as in MINPACK's lmder (More 1978), but round, as the weights have made the unknowns alike; the step
/// at its edge is exact (More and Sorensen 1983). Bounded by `limit` evaluations. `tolerance`: of the sum, relative, at
/// which it ends. Gives no covariance. Held against least_squares() by tests/hunt/ridge_test.cpp.
Fit ridge(std::size_t count, std::vector<double> start, const Residuals& residuals, int limit, double tolerance);

}  // namespace airtally::hunt
