#include "laws/passage.hpp"

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

support::Law law_of(const Passage& path) {
  return [path](const Ends& ends) { return passage(path, ends, air); };
}

double area(const Passage& path) { return 0.25 * std::numbers::pi * path.bore * path.bore; }

/// Isentropic nozzle flow, the text-book formula: an independent route for a passage without length and loss.
double nozzle(double area, double p1, double p2) {
  const double r = std::max(p2 / p1, std::pow(2.0 / 2.4, 3.5));
  return area * p1 * std::sqrt(2.0 * 1.4 / (0.4 * air.rt) * (std::pow(r, 2.0 / 1.4) - std::pow(r, 2.4 / 1.4)));
}

}  // namespace

TEST_CASE("passages of every size are odd, monotone and have true slopes", "[laws][property]") {
  unsigned seed = 100;
  for (const double bore : {0.1e-3, 0.4e-3, 1e-3, 4e-3}) {
    for (const double bores : {0.0, 0.5, 3.0, 20.0, 100.0}) {
      for (const double loss : {0.0, 0.5, 3.0}) {
        const Passage path{bore, bores * bore, 0.0, loss};
        CAPTURE(bore, bores, loss);
        support::check_law(law_of(path), law_of(path), seed++, 60);
      }
    }
  }
}

TEST_CASE("a passage without length and loss is the isentropic nozzle", "[laws][closed-form]") {
  // 1e-4: a passage without length counts as a thousandth of its bore long, whose friction is 6e-5 of a velocity head.
  const Passage path{2e-3, 0.0, 0.0, 0.0};
  for (const double p2 : {99e3, 90e3, 70e3, 55e3, 52e3, 30e3, 1e3}) {
    CAPTURE(p2);
    CHECK_THAT(passage(path, {100e3, p2}, air).m, WithinRel(nozzle(area(path), 100e3, p2), 1e-4));
  }
}

TEST_CASE("a slow long passage follows Hagen and Poiseuille", "[laws][closed-form]") {
  const Passage path{0.2e-3, 20e-3};
  for (const double drop : {10.0, 1.0}) {
    const Ends ends{50e3, 50e3 - drop, drop};
    const double poiseuille = std::numbers::pi * std::pow(path.bore, 4) * drop * (ends.p1 + ends.p2) /
                              (256.0 * air.viscosity * air.rt * path.length);
    CHECK_THAT(passage(path, ends, air).m / poiseuille - 1.0, WithinAbs(0.0, 1e-5 * drop));
  }
}

TEST_CASE("a passage is Fanno flow behind its inlet, integrated along its length", "[laws][closed-form]") {
  // Second route: from the flow the law gives, M1 follows from the inlet, M along the bore from
  // dy/dx = f gamma y^2 (1 + a y)/(D (1 - y)), y = M^2 (Runge-Kutta), and the exit pressure from the flow and M2.
  const Passage path{1e-3, 15e-3};
  for (const double p2 : {95e3, 70e3, 45e3}) {
    const double m = passage(path, {100e3, p2}, air).m;
    const double flux = m / area(path);
    const auto inlet = [&](double mach) {
      const double x = 1.0 + 0.2 * mach * mach;
      return 100e3 / (std::pow(x, 3.5) + 0.5 * 0.7 * mach * mach) * mach * std::sqrt(1.4 * x / air.rt);
    };
    double low = 0.0;
    double high = 0.9;  // below the inlet's largest flow
    for (int i = 0; i < 100; ++i) (inlet(0.5 * (low + high)) < flux ? low : high) = 0.5 * (low + high);
    const double re = flux * path.bore / air.viscosity;
    const double friction = churchill(re, 0.0).g / re;
    const auto slope = [&](double y) { return friction * 1.4 * y * y * (1.0 + 0.2 * y) / (path.bore * (1.0 - y)); };
    double y = low * low;
    const int steps = 2000;
    const double step = path.length / steps;
    for (int i = 0; i < steps; ++i) {
      const double k1 = slope(y);
      const double k2 = slope(y + 0.5 * step * k1);
      const double k3 = slope(y + 0.5 * step * k2);
      const double k4 = slope(y + step * k3);
      y += step * (k1 + 2.0 * k2 + 2.0 * k3 + k4) / 6.0;
    }
    CAPTURE(p2, low, y);
    CHECK_THAT(flux / std::sqrt(1.4 * y * (1.0 + 0.2 * y) / air.rt), WithinRel(p2, 1e-8));
  }
}

TEST_CASE("a short passage with entrance loss chokes at its inlet", "[laws][closed-form]") {
  // The largest of pi M sqrt(1 + a y) over M, found by a scan; for K = 0.5 it lies at Mach 0.911.
  for (const double loss : {0.5, 1.0, 4.0}) {
    double largest = 0.0;
    double at = 0.0;
    for (double mach = 0.2; mach < 1.0; mach += 1e-4) {
      const double x = 1.0 + 0.2 * mach * mach;
      const double flux = 100e3 / (std::pow(x, 3.5) + loss * 0.7 * mach * mach) * mach * std::sqrt(1.4 * x / air.rt);
      if (flux > largest) at = mach;
      largest = std::max(largest, flux);
    }
    const Passage path{1e-3, 0.0, 0.0, loss};
    CHECK_THAT(choked_flow(path, 100e3, air), WithinRel(area(path) * largest, 1e-8));
    if (loss == 0.5) CHECK_THAT(at, WithinAbs(0.911, 5e-4));
  }
}

TEST_CASE("a choked passage passes the same whatever lies behind it", "[laws][property]") {
  for (const double bores : {0.0, 0.2, 3.0, 50.0}) {
    for (const double loss : {0.0, 0.5}) {
      const Passage path{1e-3, bores * 1e-3, 0.0, loss};
      const double limit = choked_flow(path, 100e3, air);
      CAPTURE(bores, loss);
      const Flow choked = passage(path, {100e3, 500.0}, air);
      CHECK_THAT(choked.m, WithinRel(limit, 1e-13));
      CHECK(choked.dm_dp2 == 0.0);
      double before = 0.0;
      for (double p2 = 99.9e3; p2 > 1e3; p2 -= 300.0) {
        const Flow flow = passage(path, {100e3, p2}, air);
        REQUIRE(flow.m >= before * (1.0 - 1e-13));
        before = flow.m;
      }
      CHECK_THAT(before, WithinRel(limit, 1e-13));
    }
  }
}

TEST_CASE("value and slopes are continuous where a passage chokes, at its exit and at its inlet", "[laws][property]") {
  for (const double bores : {0.0, 5.0}) {
    const Passage path{1e-3, bores * 1e-3};
    const double p1 = 100e3;
    double low = 1e3;  // choked
    double high = 90e3;
    for (int i = 0; i < 60; ++i) {
      const double middle = 0.5 * (low + high);
      (passage(path, {p1, middle}, air).dm_dp2 == 0.0 ? low : high) = middle;
    }
    const Flow choked = passage(path, {p1, low * (1.0 - 1e-6)}, air);
    const Flow open = passage(path, {p1, high * (1.0 + 1e-6)}, air);
    CAPTURE(bores, low);
    CHECK_THAT(open.m, WithinRel(choked.m, 1e-10));
    CHECK_THAT(open.dm_dp1, WithinRel(choked.dm_dp1, 1e-4));
    CHECK_THAT(open.dm_dp2, WithinAbs(0.0, 1e-4 * choked.dm_dp1));
  }
}

TEST_CASE("a guess, good or bad, does not change a passage's flow", "[laws][property]") {
  support::RandomEnds random(9);
  const Passage path{1e-3, 6e-3};
  for (int i = 0; i < 300; ++i) {
    const Ends ends = random.next();
    const double m = passage(path, ends, air).m;
    CAPTURE(ends.p1, ends.p2);
    for (const double factor : {-1.0, 1e-6, 0.5, 1.0, 1.001, 30.0, 1e6}) {
      CHECK_THAT(passage(path, ends, air, factor * m).m, WithinRel(m, 1e-13));
      CHECK(passage(path, {ends.p1, ends.p1}, air, factor * m).m == 0.0);
    }
  }
}

TEST_CASE("what a passage's flow lacks is of the order of the square of how close it was asked", "[laws][property]") {
  const Passage path{0.4e-3, 1.2e-3, 0.0, 0.5};
  for (double p2 = 30e3; p2 < 101.3e3; p2 += 0.5e3) {
    const Ends ends{101.325e3, p2};
    const Flow exact = passage(path, ends, air);
    CAPTURE(p2);
    for (const double close : {1e-3, 1e-4, 1e-5})
      for (const double factor : {1.0 + 0.9 * close, 1.0 - 0.9 * close, 1.0 + 20.0 * close}) {
        const Flow flow = passage(path, ends, air, factor * exact.m, close);
        CHECK_THAT(flow.m, WithinRel(exact.m, 10.0 * close * close + 1e-13));
        CHECK_THAT(flow.dm_dp1, WithinAbs(exact.dm_dp1, 20.0 * close * (exact.dm_dp1 - exact.dm_dp2)));
      }
  }
}

TEST_CASE("a passage without bore or pressure is refused", "[laws][property]") {
  CHECK_THROWS_AS(passage({0.0, 1.0}, {1e5, 9e4}, air), DomainError);
  CHECK_THROWS_AS(passage({1e-3, -1.0}, {1e5, 9e4}, air), DomainError);
  CHECK_THROWS_AS(passage({1e-3, 1.0}, {-1.0, 9e4}, air), DomainError);
  CHECK_THROWS_AS(choked_flow({1e-3, 1.0}, 0.0, air), DomainError);
}
