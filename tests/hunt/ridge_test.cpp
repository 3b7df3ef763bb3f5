#include "hunt/fit/ridge.hpp"

#include <Eigen/Dense>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "hunt/samples/normals_private.hpp"

using namespace airtally::hunt;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
using Eigen::VectorXd;

/// r = J u - b, whose least sum of squares with u's has a closed form.
struct Straight {
  Matrix slopes;
  VectorXd b;

  Residuals residuals() const {
    return [this](std::span<const double> u, std::span<double> r, std::span<double> out) {
      const VectorXd all = slopes * Eigen::Map<const VectorXd>(u.data(), slopes.cols()) - b;
      std::copy(all.data(), all.data() + all.size(), r.begin());
      std::copy(slopes.data(), slopes.data() + slopes.size(), out.begin());
      return true;
    };
  }
};

/// The problem with u appended to the residuals, for the general fitter.
Fit by_general(std::size_t count, const std::vector<double>& start, const Residuals& residuals) {
  const std::size_t n = start.size();
  const Residuals all = [&](std::span<const double> u, std::span<double> r, std::span<double> slopes) {
    if (!residuals(u, r.first(count), slopes.first(count * n))) return false;
    std::fill(slopes.begin() + static_cast<std::ptrdiff_t>(count * n), slopes.end(), 0.0);
    for (std::size_t k = 0; k < n; ++k) {
      r[count + k] = u[k];
      slopes[(count + k) * n + k] = 1.0;
    }
    return true;
  };
  return least_squares(count + n, start, all, 2000, 1e-13);
}

/// Few sums of many exponentials, as readings are of leaks on a log scale.
Residuals sums(const Matrix& share, const VectorXd& read) {
  return [&share, &read](std::span<const double> u, std::span<double> r, std::span<double> slopes) {
    for (Eigen::Index i = 0; i < share.rows(); ++i) {
      double sum = 0.0;
      for (Eigen::Index k = 0; k < share.cols(); ++k) {
        const double term = share(i, k) * std::exp(1.6 * u[static_cast<std::size_t>(k)]);
        slopes[static_cast<std::size_t>(i * share.cols() + k)] = 1.6 * term;
        sum += term;
      }
      r[static_cast<std::size_t>(i)] = sum - read[i];
    }
    return true;
  };
}

/// y = b1 (1 - exp(-b2 x)) in units of `scale` each, from `start`: so wide that nothing holds the unknowns.
void check_nist(const std::vector<double>& x, const std::vector<double>& y, const double start[2], const double b[2],
                double sum) {
  constexpr double certain = 1e6;  // weight of a residual over that of an unknown
  const Residuals residuals = [&](std::span<const double> u, std::span<double> r, std::span<double> slopes) {
    const double b1 = start[0] * (1.0 + u[0]), b2 = start[1] * (1.0 + u[1]);
    for (std::size_t i = 0; i < x.size(); ++i) {
      const double e = std::exp(-b2 * x[i]);
      r[i] = certain * (b1 * (1.0 - e) - y[i]);
      slopes[2 * i] = certain * (1.0 - e) * start[0];
      slopes[2 * i + 1] = certain * b1 * x[i] * e * start[1];
    }
    return true;
  };
  const Fit fit = ridge(x.size(), {0.0, 0.0}, residuals, 2000, 1e-14);
  CHECK(fit.converged);
  CHECK_THAT(start[0] * (1.0 + fit.x[0]), WithinRel(b[0], 1e-6));
  CHECK_THAT(start[1] * (1.0 + fit.x[1]), WithinRel(b[1], 1e-6));
  CHECK_THAT(fit.sum / (certain * certain), WithinRel(sum, 1e-8));
}

}  // namespace

TEST_CASE("where the residuals are straight lines the ridge's answer is in closed form", "[hunt][closed-form]") {
  Normals normals(7);
  for (const auto& [m, n] : {std::pair(3, 11), std::pair(11, 3), std::pair(6, 6), std::pair(1, 20)}) {
    CAPTURE(m, n);
    Straight straight{Matrix(m, n), 2.0 * normals.normals(m)};
    for (int i = 0; i < m; ++i) straight.slopes.row(i) = 5.0 * normals.normals(n).transpose();
    if (m == 6) straight.slopes.row(5) = straight.slopes.row(4);  // the same read twice
    if (m == 11) straight.slopes.col(2).setZero();                // nothing sees it
    const Matrix normal = Matrix::Identity(n, n) + straight.slopes.transpose() * straight.slopes;
    const VectorXd expected = normal.llt().solve(straight.slopes.transpose() * straight.b);
    const Fit fit = ridge(static_cast<std::size_t>(m), std::vector<double>(static_cast<std::size_t>(n), 3.0),
                          straight.residuals(), 60, 1e-12);
    CHECK(fit.converged);
    CHECK(fit.evaluations < 12);
    for (int k = 0; k < n; ++k) CHECK_THAT(fit.x[static_cast<std::size_t>(k)], WithinAbs(expected[k], 1e-9));
  }
}

TEST_CASE("the ridge ends where the general fitter does", "[hunt][property]") {
  Normals normals(11);
  for (int round = 0; round < 40; ++round) {
    CAPTURE(round);
    constexpr int m = 5, n = 14;
    Matrix share(m, n);
    for (int i = 0; i < m; ++i) share.row(i) = normals.normals(n).cwiseAbs().transpose();
    const VectorXd read = 30.0 * normals.normals(m).cwiseAbs();
    std::vector<double> start(n, 0.0);
    start[static_cast<std::size_t>(round % n)] = 2.0;
    const Residuals residuals = sums(share, read);
    const Fit fit = ridge(m, start, residuals, 400, 1e-13), general = by_general(m, start, residuals);
    REQUIRE(fit.converged);
    // Sums of exponentials have several least points; both must be at one, and at the same from the same side mostly.
    const Fit again = by_general(m, fit.x, residuals);
    CHECK_THAT(again.sum, WithinRel(fit.sum, 1e-9));
    CHECK(fit.sum < 1.5 * general.sum);
  }
}

TEST_CASE("where the residuals can't be had the ridge steps shorter", "[hunt][property]") {
  const Residuals residuals = [](std::span<const double> u, std::span<double> r, std::span<double> slopes) {
    if (!(u[0] < 0.95)) return false;
    r[0] = 20.0 * (u[0] - 0.9);
    slopes[0] = 20.0;
    slopes[1] = 0.0;
    return true;
  };
  const Fit fit = ridge(1, {-6.0, 0.0}, residuals, 100, 1e-12);
  CHECK(fit.converged);
  CHECK_THAT(fit.x[0], WithinRel(360.0 / 401.0, 1e-9));
  const Fit none = ridge(1, {1.0, 0.0}, residuals, 100, 1e-12);
  CHECK_FALSE(none.converged);
  CHECK(none.sum > 1e50);
}

// NIST StRD, Misra1a.dat and BoxBOD.dat: certified values, from both of the starts given there.
TEST_CASE("the ridge finds the certified values of Misra1a and BoxBOD", "[hunt][literature]") {
  const std::vector<double> misra_x{77.6,  114.9, 141.1, 190.8, 239.9, 289.0, 332.8,
                                    378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0};
  const std::vector<double> misra_y{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02,
                                    44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78};
  const double misra[] = {2.3894212918e2, 5.5015643181e-4};
  for (const auto& start : {std::array{500.0, 1e-4}, std::array{250.0, 5e-4}})
    check_nist(misra_x, misra_y, start.data(), misra, 1.2455138894e-1);
  const std::vector<double> box_x{1, 2, 3, 5, 7, 10}, box_y{109, 149, 149, 191, 213, 224};
  const double box[] = {2.1380940889e2, 5.4723748542e-1};
  for (const auto& start : {std::array{100.0, 0.75}, std::array{1.0, 1.0}})
    check_nist(box_x, box_y, start.data(), box, 1.1680088766e3);
}
