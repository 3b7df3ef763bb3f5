#include "laws/slot.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "errors.hpp"
#include "support/air.hpp"
#include "support/slopes.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinRel;

namespace {

using support::air;

}  // namespace

TEST_CASE("gaps are odd, monotone and have true slopes", "[laws][property]") {
  for (const double gap : {2e-6, 10e-6, 50e-6}) {
    const support::Law joint = [gap](const Ends& ends) { return clearance({gap, 6e-3, 10e-3, 0.3}, ends, air); };
    const support::Law rim = [gap](const Ends& ends) { return face_gap({gap, 0.5e-3, 0.8e-3}, ends, air); };
    support::check_law(joint, joint, 21, 100);
    support::check_law(rim, rim, 22, 100);
  }
}

// By hand: (p1^2 - p2^2)(1 + 6 Kn) = a m, and behind that `heads` heads at the low end's density, heads RT (m/A)^2/2 (1
// + p1/p2) on the same side, as long as it is not choked.
TEST_CASE("a gap's drop is friction with slip and heads", "[laws][closed-form]") {
  support::RandomEnds random(23);
  const auto adds_up = [](const Ends& ends, double m, double a, double heads, double area, double gap) {
    const double high = std::max(ends.p1, ends.p2), low = std::min(ends.p1, ends.p2);
    const double kn = gas::mean_free_path(0.5 * (ends.p1 + ends.p2), air.temperature) / gap;
    const double speed = m / area, head = 0.5 * heads * air.rt * speed * speed * (1.0 + high / low);
    CHECK_THAT(a * std::abs(m) / (1.0 + 6.0 * kn) + head, WithinRel(std::abs(ends.drop) * (high + low), 1e-10));
  };
  int seen = 0;
  for (int i = 0; i < 400; ++i) {
    const Ends ends = random.next();
    if (std::min(ends.p1, ends.p2) < 0.6 * std::max(ends.p1, ends.p2) || ends.drop == 0.0) continue;  // may be choked
    ++seen;
    for (const double gap : {2e-6, 8e-6, 40e-6}) {
      const double joint = 24.0 * air.viscosity * air.rt * 10e-3 / (M_PI * 6e-3 * gap * gap * gap);
      adds_up(ends, clearance({gap, 6e-3, 10e-3, 0.0}, ends, air).m, joint, 54.0 / 35.0 + 0.5, M_PI * 6e-3 * gap, gap);
      const double rim = 12.0 * air.viscosity * air.rt * std::log(1.6) / (M_PI * gap * gap * gap);
      adds_up(ends, face_gap({gap, 0.5e-3, 0.8e-3}, ends, air).m, rim, 54.0 / 35.0, 2.0 * M_PI * 0.5e-3 * gap, gap);
    }
  }
  CHECK(seen > 50);
}

// A land of no length: heads alone. They pass most where half the pressure is left, A p1/sqrt(2 heads R T): 0.83 of the
// isentropic nozzle's 0.685 A p1/sqrt(R T), as a hole that is neither sharp nor rounded does.
TEST_CASE("a gap passes no more than its air can leave", "[laws][closed-form]") {
  const FaceGap ring{20e-6, 0.5e-3, 0.5e-3 * (1.0 + 1e-9)};
  const double area = 2.0 * M_PI * ring.inner * ring.gap;
  const double most = area * 101325.0 / std::sqrt(2.0 * 54.0 / 35.0 * air.rt);
  CHECK_THAT(face_gap(ring, {101325.0, 50e3}, air).m, WithinRel(most, 1e-3));
  const double choked = face_gap(ring, {101325.0, 20e3}, air).m;
  CHECK_THAT(choked, WithinRel(most, 1e-4));
  CHECK_THAT(face_gap(ring, {101325.0, 1e3}, air).m, WithinRel(choked, 1e-9));
  CHECK_THAT(choked / (0.6847 * area * 101325.0 / std::sqrt(air.rt)), WithinRel(0.83, 0.01));
  // With friction before them the same heads choke at a lower pressure, and no flow exceeds this.
  for (const double outer : {0.51e-3, 0.6e-3, 0.9e-3, 3e-3})
    CHECK(face_gap({20e-6, 0.5e-3, outer}, {101325.0, 100.0}, air).m < choked);
}

TEST_CASE("slip in a gap means nothing below Knudsen number 0.001", "[laws][property]") {
  gas::Air plain = air;
  plain.slip = 0.0;
  const Clearance wide{100e-6, 6e-3, 10e-3, 0.0};
  const Ends ends{101325.0, 60e3};
  const double ratio = clearance(wide, ends, air).m / clearance(wide, ends, plain).m;
  REQUIRE(gas::mean_free_path(80e3, 293.15) / wide.gap < 0.001);
  CHECK(ratio > 1.0);
  CHECK(ratio < 1.01);
}

TEST_CASE("a thin face gap's ring is a clearance unrolled", "[laws][closed-form]") {
  // For ro - ri << ri the ring is a slot of width 2 pi r: the clearance of the same gap, mean diameter and length.
  // At a drop so small that heads, of which the clearance has half a one more, are nothing.
  const Ends ends{101325.0, 101325.0 - 1.0 / (1 << 20)};
  const double ring = face_gap({10e-6, 3e-3, 3.001e-3}, ends, air).m;
  CHECK_THAT(clearance({10e-6, 6.001e-3, 1e-6, 0.0}, ends, air).m, WithinRel(ring, 1e-7));
}

TEST_CASE("gaps without size are refused", "[laws][property]") {
  const Ends ends{1e5, 9e4};
  CHECK_THROWS_AS(clearance({0.0, 6e-3, 1e-2, 0.0}, ends, air), DomainError);
  CHECK_THROWS_AS(clearance({1e-5, 6e-3, 1e-2, 1.1}, ends, air), DomainError);
  CHECK_THROWS_AS(clearance({1e-5, 6e-3, 1e-2, 0.0}, {0.0, 9e4}, air), DomainError);
  CHECK_THROWS_AS(face_gap({1e-5, 1e-3, 1e-3}, ends, air), DomainError);
  CHECK_THROWS_AS(clearance_reynolds({1e-5, 0.0, 1e-2, 0.0}, 1e-6, air), DomainError);
}
