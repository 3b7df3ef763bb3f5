#include "hunt/fit/least_squares.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace airtally::hunt;
using Catch::Matchers::WithinRel;

namespace {

struct Data {
  std::vector<double> x, y;
};

/// y = b1 (1 - exp(-b2 x)), the model of Misra1a and BoxBOD.
Residuals rise(const Data& data) {
  return [&data](std::span<const double> b, std::span<double> r, std::span<double> slopes) {
    for (std::size_t i = 0; i < data.x.size(); ++i) {
      const double e = std::exp(-b[1] * data.x[i]);
      r[i] = b[0] * (1.0 - e) - data.y[i];
      slopes[2 * i] = 1.0 - e;
      slopes[2 * i + 1] = b[0] * data.x[i] * e;
    }
    return true;
  };
}

void check(const Data& data, std::vector<double> start, const double b[2], const double sd[2], double sum) {
  CAPTURE(start);
  const Fit fit = least_squares(data.x.size(), std::move(start), rise(data), 2000, 1e-14);
  REQUIRE(fit.converged);
  REQUIRE(fit.covariance.size() == 4);
  // Certified to 11 digits; a fitter that converges gets most of them (NIST asks for 4 to 6).
  CHECK_THAT(fit.x[0], WithinRel(b[0], 1e-7));
  CHECK_THAT(fit.x[1], WithinRel(b[1], 1e-7));
  CHECK_THAT(fit.sum, WithinRel(sum, 1e-9));
  const double variance = fit.sum / static_cast<double>(data.x.size() - 2);
  CHECK_THAT(std::sqrt(variance * fit.covariance[0]), WithinRel(sd[0], 1e-5));
  CHECK_THAT(std::sqrt(variance * fit.covariance[3]), WithinRel(sd[1], 1e-5));
}

}  // namespace

// NIST StRD, Misra1a.dat: certified values, and both of the starts given there.
TEST_CASE("the fitter finds the certified values of Misra1a", "[hunt][literature]") {
  const Data data{{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0},
                  {10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78}};
  const double b[] = {2.3894212918e2, 5.5015643181e-4}, sd[] = {2.7070075241, 7.2668688436e-6};
  check(data, {500.0, 1e-4}, b, sd, 1.2455138894e-1);
  check(data, {250.0, 5e-4}, b, sd, 1.2455138894e-1);
}

// NIST StRD, BoxBOD.dat, "higher difficulty": certified values and both starts.
TEST_CASE("the fitter finds the certified values of BoxBOD", "[hunt][literature]") {
  const Data data{{1, 2, 3, 5, 7, 10}, {109, 149, 149, 191, 213, 224}};
  const double b[] = {2.1380940889e2, 5.4723748542e-1}, sd[] = {1.2354515176e1, 1.0455993237e-1};
  check(data, {100.0, 0.75}, b, sd, 1.1680088766e3);
  check(data, {1.0, 1.0}, b, sd, 1.1680088766e3);
}

TEST_CASE("points that can't be evaluated shorten the step", "[hunt][property]") {
  // sqrt(x) = 1.5 from x = 9: the first full step lands below zero.
  const Residuals root = [](std::span<const double> x, std::span<double> r, std::span<double> slopes) {
    if (!(x[0] > 0.0)) return false;
    r[0] = std::log(x[0]) + 2.0;
    slopes[0] = 1.0 / x[0];
    return true;
  };
  const Fit fit = least_squares(1, {9.0}, root);
  CHECK(fit.converged);
  CHECK_THAT(fit.x[0], WithinRel(std::exp(-2.0), 1e-6));
}
