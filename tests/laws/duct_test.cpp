#include "laws/duct.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "errors.hpp"
#include "laws/friction.hpp"
#include "support/air.hpp"
#include "support/slopes.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

using support::air;

support::Law law_of(const Duct& path) {
  return [path](const Ends& ends) { return duct(path, ends, air); };
}

Duct turned(const Duct& path) {
  Duct other = path;
  std::swap(other.loss_forward, other.loss_back);
  return other;
}

double area(const Duct& path) { return 0.25 * std::numbers::pi * path.bore * path.bore; }

}  // namespace

TEST_CASE("ducts of every size are odd, monotone and have true slopes", "[laws][property]") {
  unsigned seed = 1;
  for (const double bore : {0.1e-3, 1e-3, 2.5e-3, 4e-3, 10e-3}) {
    for (const double bores : {5.0, 100.0, 1000.0}) {
      for (const double loss : {0.0, 1.5}) {
        const Duct path{bore, bores * bore, loss > 0.0 ? 0.005 * bore : 0.0, loss, 2.0 * loss};
        CAPTURE(bore, bores, loss);
        support::check_law(law_of(path), law_of(turned(path)), seed++, 60);
      }
    }
  }
}

TEST_CASE("a duct's flow goes with its bore as its slope says", "[laws][property]") {
  for (const double bore : {0.1e-3, 1e-3, 4e-3}) {
    for (const double bores : {5.0, 100.0, 1000.0}) {
      for (const double roughness : {0.0, 0.01}) {
        for (const double drop : {0.0, 3.0, 3e3, 30e3, 60e3, 95e3, -20e3}) {
          const Duct path{bore, bores * bore, roughness * bore, 0.5, 1.5};
          const Ends ends = drop < 0.0 ? Ends{101325.0 + drop, 101325.0} : Ends{101325.0, 101325.0 - drop};
          const double flow = duct(path, ends, air).m;
          const auto at = [&](double h) {
            Duct other = path;
            other.bore += h;
            return duct(other, ends, air).m;
          };
          CAPTURE(bore, bores, roughness, drop, flow);
          CHECK(support::slope_agrees(duct_by_bore(path, ends, air, flow), at, bore, 1e-8 * std::abs(flow) / bore));
        }
      }
    }
  }
}

TEST_CASE("a slow duct follows Hagen and Poiseuille", "[laws][closed-form]") {
  // The departure is the head that speeds the air up, which falls with the drop; the slip factor is taken out.
  const Duct path{2e-3, 1.0};
  const double p = 50e3;
  for (const double drop : {10.0, 1.0, 0.1}) {
    const Ends ends{p, p - drop, drop};
    const double sum = ends.p1 + ends.p2;
    const double poiseuille =
        std::numbers::pi * std::pow(path.bore, 4) * drop * sum / (256.0 * air.viscosity * air.rt * path.length);
    const double slip = 1.0 + 16.0 * air.slip / (path.bore * sum);
    CHECK_THAT(duct(path, ends, air).m / (poiseuille * slip) - 1.0, WithinAbs(0.0, 1e-6 * drop));
  }
}

TEST_CASE("a duct's flow satisfies the isothermal equation it states", "[laws][closed-form]") {
  const Duct path{2.5e-3, 0.4, 0.0, 1.5, 1.5};
  const Ends ends{101325.0, 60e3};
  const double g = duct(path, ends, air).m / area(path);
  const double re = g * path.bore / air.viscosity;
  const double kn = air.slip / (0.5 * (ends.p1 + ends.p2) * path.bore);
  const double f = churchill(re, 0.0, kn).g / re;
  const double right = g * g * air.rt * (f * path.length / path.bore + 1.5 + 2.0 * std::log(ends.p1 / ends.p2));
  REQUIRE(re > 4000.0);
  CHECK_THAT(right, WithinRel(ends.p1 * ends.p1 - ends.p2 * ends.p2, 1e-12));
}

TEST_CASE("a duct's flow integrates along its length to the exit pressure", "[laws][closed-form]") {
  // Second route: dp/dx = -(f/(2 D)) N p/(p^2 - N), N = G^2 R T, by Runge-Kutta; the entrance loss first, as K velocity
  // heads spread like friction. Slip is left out, as the law takes it at the mean pressure. The steps are many because
  // the slope is nearly singular at 35 kPa (it chokes at 33.2): a tenth of them leaves 4e-8.
  gas::Air plain = air;
  plain.slip = 0.0;
  const Duct path{2e-3, 0.3, 0.0, 1.5, 1.5};
  for (const double p2 : {95e3, 60e3, 35e3}) {
    const double g = duct(path, {100e3, p2}, plain).m / area(path);
    const double re = g * path.bore / plain.viscosity;
    const double kinetic = g * g * plain.rt;
    const double heads = churchill(re, 0.0).g / re * path.length / path.bore + 1.5;
    const auto slope = [&](double p) { return -0.5 * kinetic * p / (p * p - kinetic); };
    double p = 100e3;
    const int steps = 40000;
    const double step = heads / steps;
    for (int i = 0; i < steps; ++i) {
      const double k1 = slope(p);
      const double k2 = slope(p + 0.5 * step * k1);
      const double k3 = slope(p + 0.5 * step * k2);
      const double k4 = slope(p + step * k3);
      p += step * (k1 + 2.0 * k2 + 2.0 * k3 + k4) / 6.0;
    }
    CHECK_THAT(p, WithinRel(p2, 1e-8));
  }
}

TEST_CASE("choked flow is the largest over all exit pressures, and Mach 1/sqrt(gamma) but for slip",
          "[laws][closed-form]") {
  for (const double bore : {20e-6, 0.1e-3, 2.5e-3}) {
    const Duct path{bore, 20.0 * bore, 0.0, 0.5, 0.5};
    const double p1 = 80e3;
    const Flow choked = duct(path, {p1, 100.0}, air);
    CHECK(choked.dm_dp2 == 0.0);
    CHECK_THAT(duct(path, {p1, 1.0}, air).m, WithinRel(choked.m, 1e-13));
    // Scanned from above: the flow rises as p2 falls until it stays the same.
    double before = 0.0;
    double onset = 0.0;
    for (double p2 = p1 - 20.0; p2 > 100.0; p2 -= 20.0) {
      const Flow flow = duct(path, {p1, p2}, air);
      CAPTURE(bore, p2, flow.m, before);
      REQUIRE(flow.m >= before * (1.0 - 1e-13));
      REQUIRE(flow.m <= choked.m * (1.0 + 1e-13));
      if (flow.dm_dp2 != 0.0) onset = p2;
      before = flow.m;
    }
    const double mach = choked.m / area(path) * std::sqrt(air.rt / 1.4) / onset;
    CAPTURE(bore, mach, onset);
    if (bore > 1e-3) {
      CHECK_THAT(mach, WithinRel(1.0 / std::sqrt(1.4), 2e-3));  // the scan's step is 1e-3 of the onset
    } else {
      CHECK(mach > 1.0 / std::sqrt(1.4) - 2e-3);  // slip lowers the exit pressure
    }
  }
}

TEST_CASE("value and slopes are continuous where a duct chokes", "[laws][property]") {
  const Duct path{1e-3, 20e-3, 0.0, 0.5, 0.5};
  const double p1 = 100e3;
  double low = 1e3;  // choked
  double high = 90e3;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (duct(path, {p1, middle}, air).dm_dp2 == 0.0 ? low : high) = middle;
  }
  const Flow choked = duct(path, {p1, low * (1.0 - 1e-6)}, air);
  const Flow open = duct(path, {p1, high * (1.0 + 1e-6)}, air);
  CHECK_THAT(open.m, WithinRel(choked.m, 1e-10));
  CHECK_THAT(open.dm_dp1, WithinRel(choked.dm_dp1, 1e-5));
  CHECK_THAT(open.dm_dp2, WithinAbs(0.0, 1e-5 * choked.dm_dp1));
}

TEST_CASE("value and slopes are continuous where friction stops being surely laminar", "[laws][property]") {
  const Duct path{2e-3, 1.0, 0.0, 1.0, 1.0};
  const double p2 = 50e3;
  double low = 1.0;
  double high = 5e3;
  const auto re = [&](double drop) { return reynolds(duct(path, {p2 + drop, p2, drop}, air).m, path.bore, air); };
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (re(middle) < surely_laminar ? low : high) = middle;
  }
  const Flow below = duct(path, {p2 + low * (1 - 1e-9), p2, low * (1 - 1e-9)}, air);
  const Flow above = duct(path, {p2 + high * (1 + 1e-9), p2, high * (1 + 1e-9)}, air);
  REQUIRE_THAT(re(low), WithinRel(surely_laminar, 1e-6));
  CHECK_THAT(above.m, WithinRel(below.m, 1e-8));
  CHECK_THAT(above.dm_dp1, WithinRel(below.dm_dp1, 1e-8));
  CHECK_THAT(above.dm_dp2, WithinRel(below.dm_dp2, 1e-8));
}

TEST_CASE("a guess, good or bad, does not change a duct's flow", "[laws][property]") {
  support::RandomEnds random(7);
  const Duct path{1.5e-3, 0.1, 0.0, 1.5, 0.5};
  for (int i = 0; i < 300; ++i) {
    const Ends ends = random.next();
    const double m = duct(path, ends, air).m;
    CAPTURE(ends.p1, ends.p2);
    for (const double factor : {-1.0, 1e-6, 0.5, 1.0, 1.001, 30.0, 1e6}) {
      CHECK_THAT(duct(path, ends, air, factor * m).m, WithinRel(m, 1e-13));
      CHECK(duct(path, {ends.p1, ends.p1}, air, factor * m).m == 0.0);
    }
  }
}

TEST_CASE("what a duct's flow lacks is of the order of the square of how close it was asked", "[laws][property]") {
  support::RandomEnds random(8);
  const Duct path{1.5e-3, 0.1, 0.0, 1.5, 0.5};
  for (int i = 0; i < 1000; ++i) {
    const Ends ends = random.next();
    const Flow exact = duct(path, ends, air);
    CAPTURE(ends.p1, ends.p2);
    for (const double close : {1e-3, 1e-4, 1e-5})
      for (const double factor : {1.0 + 0.9 * close, 1.0 - 0.9 * close, 1.0 + 20.0 * close}) {
        const Flow flow = duct(path, ends, air, factor * exact.m, close);
        CHECK_THAT(flow.m, WithinRel(exact.m, 10.0 * close * close + 1e-13));
        CHECK_THAT(flow.dm_dp1, WithinAbs(exact.dm_dp1, 20.0 * close * (exact.dm_dp1 - exact.dm_dp2)));
      }
  }
}

TEST_CASE("a drop known better than the pressures is used", "[laws][property]") {
  // At 1e-9 Pa the pressures themselves round the drop away.
  const Duct path{10e-3, 20e-3, 0.0, 1.0, 1.0};
  const Flow tiny = duct(path, {100e3, 100e3, 1e-9}, air);
  CHECK_THAT(tiny.m, WithinRel(1e-9 * tiny.dm_dp1, 1e-6));
}

TEST_CASE("slip means nothing below Knudsen number 0.001", "[laws][property]") {
  gas::Air no_slip = air;
  no_slip.slip = 0.0;
  const Duct path{0.1e-3, 0.1};
  const Ends ends{101325.0, 90e3};
  REQUIRE(air.slip / (95e3 * path.bore) < 0.001);
  const double ratio = duct(path, ends, air).m / duct(path, ends, no_slip).m;
  CHECK(ratio > 1.0);
  CHECK(ratio < 1.01);
}

TEST_CASE("a duct without bore, length or pressure is refused", "[laws][property]") {
  CHECK_THROWS_AS(duct({0.0, 1.0}, {1e5, 9e4}, air), DomainError);
  CHECK_THROWS_AS(duct({1e-3, 0.0}, {1e5, 9e4}, air), DomainError);
  CHECK_THROWS_AS(duct({1e-3, 1.0, 0.0, -1.0}, {1e5, 9e4}, air), DomainError);
  CHECK_THROWS_AS(duct({1e-3, 1.0, -1e-9}, {1e5, 9e4}, air), DomainError);
  // Whatever the flow: the first of these is laminar, where roughness does not count.
  CHECK_THROWS_AS(duct({1e-3, 1.0, 0.11e-3}, {1e5, 0.999e5}, air), DomainError);
  CHECK_THROWS_AS(duct({10e-3, 1.0, 1.1e-3}, {1e5, 9e4}, air), DomainError);
  CHECK(duct({10e-3, 1.0, 1e-3}, {1e5, 9e4}, air).m > 0.0);
  CHECK_THROWS_AS(duct({1e-3, 1.0}, {1e5, 0.0}, air), DomainError);
  CHECK_THROWS_AS(duct({1e-3, 1.0}, {std::nan(""), 9e4}, air), DomainError);
}
