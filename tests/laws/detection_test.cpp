#include "laws/detection.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "errors.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("at the best threshold the two densities meet", "[detection][property]") {
  const auto density = [](const Scatter& s, double t) {
    const double z = (t - s.mean) / s.deviation;
    return std::exp(-0.5 * z * z) / s.deviation;
  };
  for (const double wide : {0.1, 0.5, 1.0 - 1e-9, 1.0, 1.0 + 1e-9, 2.0, 5.0}) {
    const Scatter below{-3.0, 1.0}, above{10.0, wide};
    const double t = best_threshold(below, above);
    CAPTURE(wide, t);
    CHECK(t > below.mean);
    CHECK(t < above.mean);
    CHECK_THAT(density(below, t) / density(above, t), WithinRel(1.0, 1e-9));
    const auto wrong = [&](double at) {
      const ErrorRates rates = error_rates(below, above, at);
      return rates.false_above + rates.false_below;
    };
    CHECK(wrong(t) <= wrong(t + 0.01));
    CHECK(wrong(t) <= wrong(t - 0.01));
  }
}

TEST_CASE("at the threshold of equal error both errors are alike", "[detection][property]") {
  const Scatter below{20.0, 3.0}, above{60.0, 6.0};
  const ErrorRates rates = error_rates(below, above, equal_error_threshold(below, above));
  CHECK_THAT(rates.false_above, WithinRel(rates.false_below, 1e-9));
  CHECK_THAT(rates.false_above, WithinRel(upper_tail(separation(below, above)), 1e-9));
}

TEST_CASE("a narrow state inside a wide one keeps the threshold between the means", "[detection][property]") {
  const Scatter narrow{0.0, 1.0}, wide{0.1, 100.0};
  const double t = best_threshold(narrow, wide);
  CHECK(t >= narrow.mean);
  CHECK(t <= wide.mean);
}

TEST_CASE("deviations_for undoes upper_tail", "[detection][property]") {
  for (const double k : {-2.0, 0.0, 1.0, 3.5, 6.0}) CHECK_THAT(deviations_for(upper_tail(k)), WithinAbs(k, 1e-9));
  CHECK_THROWS_AS(deviations_for(0.0), DomainError);
  CHECK_THROWS_AS(deviations_for(1.0), DomainError);
}

// The mean of samples of a sine, worst phase, by adding them up.
TEST_CASE("what averaging leaves of a ripple lies under its envelope and touches it", "[detection][agreement]") {
  const double rate = 1000.0;
  for (const double count : {1.0, 7.0, 16.0, 64.0}) {
    double nearest = 0.0;
    for (double f = 1.0; f < 499.0; f += 0.37) {
      double c = 0.0, s = 0.0;
      for (int i = 0; i < static_cast<int>(count); ++i) {
        c += std::cos(2.0 * std::numbers::pi * f * i / rate);
        s += std::sin(2.0 * std::numbers::pi * f * i / rate);
      }
      const double true_rest = std::hypot(c, s) / count, bound = ripple_left(f, rate, count);
      CHECK(true_rest <= bound * (1.0 + 1e-9));
      if (bound < 1.0 || count == 1.0) nearest = std::max(nearest, true_rest / bound);
    }
    CHECK(nearest > 0.99);
  }
}
