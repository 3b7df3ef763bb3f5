#include "laws/root.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinRel;

TEST_CASE("a rising residual's root is found from anywhere", "[laws][closed-form]") {
  for (const double start : {0.0, 1e-9, 0.3, 1.99, 2.0}) {
    int calls = 0;
    const auto cube = [&](double x) {
      ++calls;
      return Residual{x * x * x - 0.125, 3.0 * x * x};
    };
    CAPTURE(start, calls);
    CHECK_THAT(rising_root(cube, 2.0, start), WithinRel(0.5, 1e-14));
    CHECK(calls < 60);
  }
}

TEST_CASE("a residual with a step far steeper than its slope tells is bracketed", "[laws][property]") {
  // The slope given is that of the flat part, so Newton's steps lead astray.
  const auto step = [](double x) { return Residual{std::atan(1e6 * (x - 0.7)) + 1e-3 * x, 1e-3}; };
  const double root = rising_root(step, 1.0, 0.1);
  CHECK(step(root * (1.0 - 1e-12)).value < 0.0);
  CHECK(step(root * (1.0 + 1e-12)).value > 0.0);
}

TEST_CASE("without a root below the top, the top is the answer", "[laws][property]") {
  CHECK(rising_root([](double x) { return Residual{x - 3.0, 1.0}; }, 2.0, 0.5) == 2.0);
}

TEST_CASE("a residual that is no number is reported", "[laws][property]") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(rising_root([nan](double) { return Residual{nan, nan}; }, 1.0, 0.5), NoConvergence);
}
