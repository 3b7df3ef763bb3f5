// The fitter on more of the NIST Statistical Reference Datasets (StRD); Misra1a and BoxBOD are in
// least_squares_test.cpp. Certified values and data: Norris.dat read in public transcriptions; Rat42.dat, MGH09.dat and
// MGH10.dat recalled, which the agreement with the certified values to all their digits confirms.
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>

#include "hunt/fit/least_squares.hpp"

using namespace airtally::hunt;
using Catch::Matchers::WithinRel;

namespace {

struct Certified {
  std::vector<double> x, y;
  /// Value of the model, its slopes with the parameters into `slopes`.
  std::function<double(double x, std::span<const double> b, std::span<double> slopes)> model;
  std::vector<double> b, deviations;
  double sum = 0.0;
};

void check(const Certified& data, std::vector<double> start, double digits) {
  CAPTURE(start);
  const std::size_t n = data.b.size(), m = data.x.size();
  const Residuals residuals = [&](std::span<const double> b, std::span<double> r, std::span<double> slopes) {
    for (std::size_t i = 0; i < m; ++i) r[i] = data.model(data.x[i], b, slopes.subspan(n * i, n)) - data.y[i];
    return true;
  };
  const Fit fit = least_squares(m, std::move(start), residuals, 5000, 1e-15);
  REQUIRE(fit.converged);
  REQUIRE(fit.covariance.size() == n * n);
  const double variance = fit.sum / static_cast<double>(m - n);
  CHECK_THAT(fit.sum, WithinRel(data.sum, digits));
  for (std::size_t k = 0; k < n; ++k) {
    CAPTURE(k);
    CHECK_THAT(fit.x[k], WithinRel(data.b[k], digits));
    CHECK_THAT(std::sqrt(variance * fit.covariance[k * n + k]), WithinRel(data.deviations[k], 1e2 * digits));
  }
}

}  // namespace

TEST_CASE("the fitter finds the certified line of Norris", "[hunt][literature]") {
  Certified norris;
  norris.x = {0.2, 337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4,
              0.6, 775.5, 666.9, 338.0, 447.5, 11.6,  556.0, 228.1, 995.8, 887.6, 120.2, 0.3,
              0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1,  118.3, 229.2, 669.1, 448.9, 0.5};
  norris.y = {0.1, 338.8, 118.1, 888.0, 9.2,   228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3,
              0.1, 778.1, 668.8, 339.3, 448.9, 10.8,  557.7, 228.3, 998.0, 888.8, 119.6, 0.3,
              0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2};
  norris.model = [](double x, std::span<const double> b, std::span<double> slopes) {
    slopes[0] = 1.0;
    slopes[1] = x;
    return b[0] + b[1] * x;
  };
  norris.b = {-0.262323073774029, 1.00211681802045};
  norris.deviations = {0.232818234301152, 0.429796848199937e-3};
  norris.sum = 26.6173985294224;
  check(norris, {0.0, 0.5}, 1e-10);
}

TEST_CASE("the fitter finds the certified values of Rat42", "[hunt][literature]") {
  Certified rat42;
  rat42.x = {9, 14, 21, 28, 42, 57, 63, 70, 79};
  rat42.y = {8.93, 10.80, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08};
  rat42.model = [](double x, std::span<const double> b, std::span<double> slopes) {
    const double e = std::exp(b[1] - b[2] * x), d = 1.0 + e;
    slopes[0] = 1.0 / d;
    slopes[1] = -b[0] * e / (d * d);
    slopes[2] = b[0] * x * e / (d * d);
    return b[0] / d;
  };
  rat42.b = {7.2462237576e1, 2.6180768402, 6.7359200066e-2};
  rat42.deviations = {1.7340283401, 8.8295217536e-2, 3.4465663377e-3};
  rat42.sum = 8.0565229338;
  check(rat42, {100.0, 1.0, 0.1}, 1e-8);
  check(rat42, {75.0, 2.5, 0.07}, 1e-8);
}

// "Higher difficulty". The far start leads MINPACK's method, as most others, away to where the model is flat; NIST
// warns of it. The near one must be found.
TEST_CASE("the fitter finds the certified values of MGH09 and MGH10", "[hunt][literature]") {
  Certified mgh09;
  mgh09.x = {4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625};
  mgh09.y = {0.1957, 0.1947, 0.1735, 0.16, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246};
  mgh09.model = [](double x, std::span<const double> b, std::span<double> slopes) {
    const double top = x * x + x * b[1], bottom = x * x + x * b[2] + b[3];
    slopes[0] = top / bottom;
    slopes[1] = b[0] * x / bottom;
    slopes[2] = -b[0] * top * x / (bottom * bottom);
    slopes[3] = -b[0] * top / (bottom * bottom);
    return b[0] * top / bottom;
  };
  mgh09.b = {1.9280693458e-1, 1.9128232873e-1, 1.2305650693e-1, 1.3606233068e-1};
  mgh09.deviations = {1.1435312227e-2, 1.9633220911e-1, 8.0842031232e-2, 9.0025542308e-2};
  mgh09.sum = 3.0750560385e-4;
  check(mgh09, {0.25, 0.39, 0.415, 0.39}, 1e-6);

  Certified mgh10;
  for (int k = 0; k < 16; ++k) mgh10.x.push_back(50.0 + 5.0 * k);
  mgh10.y = {34780, 28610, 23650, 19630, 16370, 13720, 11540, 9744, 8261, 7030, 6005, 5147, 4427, 3820, 3307, 2872};
  mgh10.model = [](double x, std::span<const double> b, std::span<double> slopes) {
    const double e = std::exp(b[1] / (x + b[2]));
    slopes[0] = e;
    slopes[1] = b[0] * e / (x + b[2]);
    slopes[2] = -b[0] * e * b[1] / ((x + b[2]) * (x + b[2]));
    return b[0] * e;
  };
  mgh10.b = {5.6096364710e-3, 6.1813463463e3, 3.4522363462e2};
  mgh10.deviations = {1.5687892471e-4, 2.3309021107e1, 7.8486103508e-1};
  mgh10.sum = 8.7945855171e1;
  check(mgh10, {0.02, 4000.0, 250.0}, 1e-6);
}
