#include "laws/conductance.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "errors.hpp"
#include "support/air.hpp"
#include "support/slopes.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

using support::air;

}  // namespace

TEST_CASE("conductances are odd, monotone and have true slopes", "[laws][property]") {
  for (const double b : {0.0, 0.2, 0.5, 0.9, 0.95}) {
    CAPTURE(b);
    const support::Law law = [b](const Ends& ends) { return conductance({1e-9, b}, ends, air); };
    support::check_law(law, law, 41, 200);
  }
}

TEST_CASE("value and slopes are continuous at the seams of a conductance", "[laws][property]") {
  const double p1 = 100e3;
  for (const double b : {0.0, 0.3, 0.9}) {
    for (const double seam : {0.999, b > 0.0 ? b : 0.999, 1.0}) {
      const double p2 = seam * p1;
      const Flow below = conductance({1e-9, b}, {p1, p2 - 1e-4, p1 - p2 + 1e-4}, air);
      const Flow above = conductance({1e-9, b}, {p1, p2 + 1e-4, p1 - p2 - 1e-4}, air);
      CAPTURE(b, seam);
      CHECK_THAT(above.m, WithinAbs(below.m, 1e-3 * below.dm_dp1));  // 2e-4 Pa times the slope, at most
      CHECK_THAT(above.dm_dp1, WithinRel(below.dm_dp1, 1e-5));
      CHECK_THAT(above.dm_dp2, WithinAbs(below.dm_dp2, 1e-5 * below.dm_dp1));
    }
  }
}

TEST_CASE("near rest the cubic stays above the chord and below the root", "[laws][property]") {
  // At 1 - r = 0.001 it is the ellipse; below that the ellipse's root would rise with infinite slope.
  const Conductance path{1e-9, 0.4};
  const double p1 = 100e3;
  const double seam = conductance(path, {p1, 0.999 * p1, 100.0}, air).m;
  for (double x = 0.05; x < 1.0; x += 0.05) {
    const double m = conductance(path, {p1, p1 - 100.0 * x, 100.0 * x}, air).m;
    CHECK(m > seam * x);
    CHECK(m < seam * std::sqrt(x));
  }
}

TEST_CASE("warm air flows in proportion to the inverse root of its temperature", "[laws][closed-form]") {
  const Conductance path{1e-9, 0.4};
  for (const double p2 : {10e3, 80e3, 99.99e3}) {
    const double cold = conductance(path, {100e3, p2}, gas::air_at(280.0)).m;
    const double warm = conductance(path, {100e3, p2}, gas::air_at(320.0)).m;
    CHECK_THAT(cold / warm, WithinRel(std::sqrt(320.0 / 280.0), 1e-14));
  }
}

TEST_CASE("a conductance of nothing passes nothing", "[laws][closed-form]") {
  const Flow flow = conductance({0.0, 0.5}, {1e5, 1e4}, air);
  CHECK(flow.m == 0.0);
  CHECK(flow.dm_dp1 == 0.0);
}

TEST_CASE("a conductance outside its range is refused", "[laws][property]") {
  CHECK_THROWS_AS(conductance({-1e-9, 0.5}, {1e5, 9e4}, air), DomainError);
  CHECK_THROWS_AS(conductance({1e-9, 0.96}, {1e5, 9e4}, air), DomainError);
  CHECK_THROWS_AS(conductance({1e-9, -0.1}, {1e5, 9e4}, air), DomainError);
  CHECK_THROWS_AS(conductance({1e-9, 0.5}, {1e5, 0.0}, air), DomainError);
  CHECK_THROWS_AS(hole(0.0), DomainError);
  CHECK_THROWS_AS(hole(1e-3, 1.1), DomainError);
}
