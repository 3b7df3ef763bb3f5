#include "laws/friction.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "errors.hpp"
#include "support/slopes.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("friction is the formula as it stands", "[laws][closed-form]") {
  // Written here as printed, with std::pow; the law writes it with products and roots.
  for (double re = 710.0; re < 1e8; re *= 1.17) {
    for (const double e : {0.0, 1e-3, 0.05}) {
      for (const double kn : {0.0, 1e-3}) {
        const double s = 1.0 + 8.0 * kn;
        const double a = std::pow(2.457 * std::log(1.0 / (std::pow(7.0 / re, 0.9) + 0.27 * e)), 16);
        const double b = std::pow(37530.0 / re, 16);
        const double f = 8.0 * std::pow(std::pow(8.0 / (re * s), 12) + std::pow(a + b, -1.5), 1.0 / 12.0);
        CAPTURE(re, e, kn);
        CHECK_THAT(churchill(re, e, kn).g, WithinRel(f * re, 1e-13));
      }
    }
  }
}

TEST_CASE("slow flow is laminar, with slip, down to rest", "[laws][closed-form]") {
  for (const double re : {0.0, 1e-6, 1.0, 400.0}) {
    CHECK(churchill(re, 0.01).g == 64.0);
    CHECK(churchill(re, 0.01).dg_dre == 0.0);
    CHECK_THAT(churchill(re, 0.0, 0.05).g, WithinRel(64.0 / 1.4, 1e-15));
  }
  // At the switch the full formula adds less than rounding: nothing jumps.
  CHECK_THAT(churchill(surely_laminar * (1.0 + 1e-12), 0.05).g, WithinRel(64.0, 1e-15));
  CHECK(churchill(surely_laminar * (1.0 + 1e-12), 0.05).dg_dre < 1e-15);
}

TEST_CASE("slopes of friction with Reynolds and Knudsen numbers and roughness", "[laws][property]") {
  for (double re = 100.0; re < 1e7; re *= 1.09) {
    for (const double e : {0.0, 0.01}) {
      for (const double kn : {1e-4, 0.02}) {
        const Friction friction = churchill(re, e, kn);
        CAPTURE(re, e, kn);
        CHECK(support::slope_agrees(
            friction.dg_dre, [&](double h) { return churchill(re + h, e, kn).g; }, re, 1e-9 * friction.g / re));
        CHECK(support::slope_agrees(
            friction.dg_dkn, [&](double h) { return churchill(re, e, kn + h).g; }, kn, 1e-9 * friction.g / kn));
        CHECK(support::slope_agrees(
            friction.dg_dlne, [&](double h) { return churchill(re, e * std::exp(h), kn).g; }, 1.0, 1e-9 * friction.g));
      }
    }
  }
}

TEST_CASE("rarefied flow at the Reynolds number where the smooth wall's logarithm is 0 has slopes",
          "[laws][property]") {
  // (7/Re)^0.9 = 1: A and its logarithm are 0. Slow enough for that, the formula is only reached with large slip.
  const Friction at = churchill(7.0, 0.0, 20.0), below = churchill(6.999, 0.0, 20.0),
                 above = churchill(7.001, 0.0, 20.0);
  CHECK(std::isfinite(at.g));
  CHECK_THAT(at.dg_dre, WithinAbs((above.g - below.g) / 0.002, 1e-9));
  CHECK_THAT(at.dg_dre, WithinAbs(0.5 * (below.dg_dre + above.dg_dre), 1e-12));
}

TEST_CASE("f Re never falls with Re, so that a duct has one flow", "[laws][property]") {
  for (const double e : {0.0, 1e-3, 0.05}) {
    double before = 0.0;
    for (double re = 1.0; re < 1e8; re *= 1.01) {
      const Friction friction = churchill(re, e);
      CAPTURE(re, e);
      REQUIRE(friction.g >= before);
      REQUIRE(friction.dg_dre >= 0.0);
      before = friction.g;
    }
  }
}

TEST_CASE("friction outside its range is refused", "[laws][property]") {
  CHECK_THROWS_AS(churchill(-1.0, 0.0), DomainError);
  CHECK_THROWS_AS(churchill(std::nan(""), 0.0), DomainError);
  CHECK_THROWS_AS(churchill(1e13, 0.0), DomainError);
  CHECK_THROWS_AS(churchill(1e4, 0.11), DomainError);
  CHECK_THROWS_AS(churchill(1e4, 0.0, -1.0), DomainError);
}
