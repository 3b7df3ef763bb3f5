#include "solve/carried.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

using airtally::solve::Carried;
using airtally::solve::carried;
using Catch::Matchers::WithinAbs;

TEST_CASE("on a straight course of temperature the border has the mean of its neighbours", "[solve][closed-form]") {
  CHECK_THAT(carried(0.90, 0.95, 1.00).tau, WithinAbs(0.975, 1e-15));
  CHECK_THAT(carried(1.0, 1.0, 1.0).tau, WithinAbs(1.0, 0.0));
}

// Upwind alone is off by h/2 of the slope; the reconstruction must be off by h^2, so that halving h quarters its error.
TEST_CASE("the border's temperature is right to second order on a smooth course", "[solve][closed-form]") {
  const auto course = [](double x) { return 0.8 + 0.2 * std::exp(-x); };
  const auto error = [&](double h) {
    return std::fabs(carried(course(0.5 - h), course(0.5), course(0.5 + h)).tau - course(0.5 + 0.5 * h));
  };
  const double order = std::log2(error(0.05) / error(0.025));
  CAPTURE(order);
  CHECK_THAT(order, WithinAbs(2.0, 0.1));
}

TEST_CASE("the border's temperature makes no new extremes and has the slopes that it says", "[solve][property]") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> tau(0.5, 1.5);
  const double h = 1e-6;
  for (int i = 0; i < 2000; ++i) {
    const double z = tau(random), u = tau(random), d = tau(random);
    const Carried c = carried(z, u, d);
    CAPTURE(z, u, d, c.tau);
    const double a = u - z, b = d - u;
    if (a * b > 0.0) {
      CHECK(c.tau >= std::min(u, d) - 1e-3);
      CHECK(c.tau <= std::max(u, d) + 1e-3);
    } else {
      CHECK(std::fabs(c.tau - u) <= 0.104 * std::max(std::fabs(a), std::fabs(b)) + 1e-3);
    }
    const auto slope = [&](double dz, double du, double dd) {
      return (carried(z + dz, u + du, d + dd).tau - carried(z - dz, u - du, d - dd).tau) / (2 * h);
    };
    CHECK_THAT(c.by_before, WithinAbs(slope(h, 0, 0), 1e-6));
    CHECK_THAT(c.by_up, WithinAbs(slope(0, h, 0), 1e-6));
    CHECK_THAT(c.by_down, WithinAbs(slope(0, 0, h), 1e-6));
  }
}
