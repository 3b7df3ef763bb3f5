#include "hunt/fit/ridge.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "study/random.hpp"

// Without Eigen, which the watched library has with another layout of its memory than these tests would.

using namespace airtally::hunt;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Numbers from -`size` to `size`.
std::vector<double> numbers(airtally::study::Random& random, std::size_t count, double size) {
  std::vector<double> all(count);
  for (double& one : all) one = size * (2.0 * random.uniform() - 1.0);
  return all;
}

/// r = J u - b.
struct Straight {
  std::size_t count, unknowns;
  std::vector<double> slopes, b;

  Residuals residuals() const {
    return [this](std::span<const double> u, std::span<double> r, std::span<double> out) {
      for (std::size_t i = 0; i < count; ++i) {
        r[i] = -b[i];
        for (std::size_t k = 0; k < unknowns; ++k) r[i] += slopes[i * unknowns + k] * u[k];
      }
      std::copy(slopes.begin(), slopes.end(), out.begin());
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
Residuals sums(const std::vector<double>& share, const std::vector<double>& read) {
  return [&share, &read](std::span<const double> u, std::span<double> r, std::span<double> slopes) {
    for (std::size_t i = 0; i < read.size(); ++i) {
      r[i] = -read[i];
      for (std::size_t k = 0; k < u.size(); ++k) {
        const double term = share[i * u.size() + k] * std::exp(1.6 * u[k]);
        slopes[i * u.size() + k] = 1.6 * term;
        r[i] += term;
      }
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

TEST_CASE("where the residuals are straight lines the ridge ends where nothing pulls any more", "[hunt][closed-form]") {
  airtally::study::Random random(7);
  using Size = std::pair<std::size_t, std::size_t>;
  for (const auto& [m, n] : {Size(3, 11), Size(11, 3), Size(6, 6), Size(1, 20)}) {
    CAPTURE(m, n);
    Straight straight{m, n, numbers(random, m * n, 8.0), numbers(random, m, 4.0)};
    if (m == 6)  // the same read twice
      std::copy(straight.slopes.begin() + 24, straight.slopes.begin() + 30, straight.slopes.begin() + 30);
    if (m == 11)  // nothing sees it
      for (std::size_t i = 0; i < m; ++i) straight.slopes[i * n + 2] = 0.0;
    const Fit fit = ridge(m, std::vector<double>(n, 3.0), straight.residuals(), 60, 1e-12);
    CHECK(fit.converged);
    CHECK(fit.evaluations < 12);
    // The least sum is where u + J^T (J u - b) = 0, and nowhere else.
    std::vector<double> r(m), slopes(m * n);
    straight.residuals()(fit.x, r, slopes);
    for (std::size_t k = 0; k < n; ++k) {
      double pull = fit.x[k];
      for (std::size_t i = 0; i < m; ++i) pull += slopes[i * n + k] * r[i];
      CHECK_THAT(pull, WithinAbs(0.0, 1e-8));
    }
    if (m == 11) CHECK_THAT(fit.x[2], WithinAbs(0.0, 1e-12));
  }
}

TEST_CASE("the ridge ends where the general fitter does", "[hunt][property]") {
  airtally::study::Random random(11);
  for (std::size_t round = 0; round < 40; ++round) {
    CAPTURE(round);
    constexpr std::size_t m = 5, n = 14;
    std::vector<double> share = numbers(random, m * n, 1.5), read = numbers(random, m, 50.0);
    for (double& one : share) one = std::fabs(one);
    for (double& one : read) one = std::fabs(one);
    std::vector<double> start(n, 0.0);
    start[round % n] = 2.0;
    const Residuals residuals = sums(share, read);
    const Fit fit = ridge(m, start, residuals, 400, 1e-13), general = by_general(m, start, residuals);
    REQUIRE(fit.converged);
    // Sums of exponentials have several least points; it must be at one, and hardly worse than the other's.
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
