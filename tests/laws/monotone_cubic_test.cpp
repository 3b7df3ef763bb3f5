#include "laws/monotone_cubic.hpp"

// Boost 1.74's interpolators call isnan unqualified: the C header brings it into the global namespace.
#include <math.h>

#include <boost/math/interpolators/pchip.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "errors.hpp"
#include "support/slopes.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("two points make a straight line", "[laws][closed-form]") {
  const MonotoneCubic line({1.0, 3.0}, {10.0, 4.0});
  for (double x = 1.0; x <= 3.0; x += 0.125) {
    CHECK_THAT(line.value(x), WithinRel(13.0 - 3.0 * x, 1e-14));
    CHECK_THAT(line.slope(x), WithinRel(-3.0, 1e-14));
  }
}

TEST_CASE("points on a straight line make that line", "[laws][closed-form]") {
  const MonotoneCubic line({0.0, 1.0, 2.5, 7.0}, {1.0, 3.0, 6.0, 15.0});
  for (double x = 0.0; x <= 7.0; x += 0.25) {
    CHECK_THAT(line.value(x), WithinRel(1.0 + 2.0 * x, 1e-14));
    CHECK_THAT(line.slope(x), WithinRel(2.0, 1e-14));
  }
}

TEST_CASE("random falling points make a curve that falls and passes through them", "[laws][property]") {
  std::mt19937_64 engine(51);
  std::uniform_real_distribution<double> unit(0.0, 1.0);
  for (int n = 2; n < 9; ++n) {
    for (int draw = 0; draw < 40; ++draw) {
      std::vector<double> x{0.0};
      std::vector<double> y{1.0};
      for (int i = 1; i < n; ++i) {
        x.push_back(x.back() + 0.01 + unit(engine));
        y.push_back(y.back() - std::pow(unit(engine), 3));
      }
      const auto last = draw % 2 == 0 ? MonotoneCubic::LastSlope::parabola : MonotoneCubic::LastSlope::never_flat;
      const MonotoneCubic curve(x, y, last);
      for (int i = 0; i < n; ++i) REQUIRE_THAT(curve.value(x[i]), WithinAbs(y[i], 1e-14));
      double before = y[0];
      for (int i = 1; i <= 500; ++i) {
        const double at = std::min(x.back() * i / 500.0, x.back());
        REQUIRE(curve.value(at) <= before + 1e-14);
        before = curve.value(at);
      }
      if (n == 2) continue;
      const double inside = x.back() * (0.05 + 0.9 * unit(engine));
      CHECK(support::slope_agrees(
          curve.slope(inside), [&](double h) { return curve.value(inside + h); }, 0.01 * x.back(), 1e-7));
      const double chord = (y[n - 1] - y[n - 2]) / (x[n - 1] - x[n - 2]);
      if (draw % 2 == 1) CHECK(curve.slope(x.back()) <= chord * (1.0 - 1e-12));
    }
  }
}

TEST_CASE("inside, the curve is that of Boost's own interpolator for four points and more", "[laws][closed-form]") {
  const std::vector<double> x{0.0, 10.0, 25.0, 60.0, 80.0, 90.0};
  const std::vector<double> y{9.0, 8.0, 6.5, 2.0, 0.7, 0.0};
  const MonotoneCubic ours(x, y);
  std::vector<double> xs = x;
  std::vector<double> ys = y;
  const boost::math::interpolators::pchip<std::vector<double>> theirs(std::move(xs), std::move(ys), ours.slope(0.0),
                                                                      ours.slope(90.0));
  for (double at = 0.0; at <= 90.0; at += 0.5) {
    CHECK_THAT(ours.value(at), WithinAbs(theirs(at), 1e-14));
    CHECK_THAT(ours.slope(at), WithinAbs(theirs.prime(at), 1e-14));
  }
}

TEST_CASE("a hump has its top at a point", "[laws][property]") {
  const MonotoneCubic hump({0.0, 30.0, 60.0, 80.0}, {0.9, 1.4, 1.1, 0.8});
  CHECK(hump.slope(30.0) == 0.0);
  for (double x = 0.0; x <= 80.0; x += 0.5) CHECK(hump.value(x) <= 1.4);
}

TEST_CASE("points that make no curve are refused", "[laws][property]") {
  CHECK_THROWS_AS(MonotoneCubic({1.0}, {1.0}), DomainError);
  CHECK_THROWS_AS(MonotoneCubic({1.0, 1.0}, {1.0, 2.0}), DomainError);
  CHECK_THROWS_AS(MonotoneCubic({1.0, 2.0}, {1.0}), DomainError);
  CHECK_THROWS_AS(MonotoneCubic({1.0, 2.0}, {1.0, std::nan("")}), DomainError);
  CHECK_THROWS_AS(MonotoneCubic({1.0, 2.0}, {1.0, 2.0}).value(2.5), std::domain_error);
}
