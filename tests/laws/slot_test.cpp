#include "laws/slot.hpp"

#include <catch2/catch.hpp>

#include "errors.hpp"
#include "support/slopes.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinRel;

namespace {

const gas::Air air = gas::air_at(293.15);

}  // namespace

TEST_CASE("gaps are odd, monotone and have true slopes", "[laws][property]") {
  for (const double gap : {2e-6, 10e-6, 50e-6}) {
    const support::Law joint = [gap](const Ends& ends) { return clearance({gap, 6e-3, 10e-3, 0.3}, ends, air); };
    const support::Law rim = [gap](const Ends& ends) { return face_gap({gap, 0.5e-3, 0.8e-3}, ends, air); };
    support::check_law(joint, joint, 21, 100);
    support::check_law(rim, rim, 22, 100);
  }
}

TEST_CASE("slip multiplies a gap's flow by 1 + 6 Kn", "[laws][closed-form]") {
  gas::Air plain = air;
  plain.slip = 0.0;
  support::RandomEnds random(23);
  for (int i = 0; i < 100; ++i) {
    const Ends ends = random.next();
    const double kn = gas::mean_free_path(0.5 * (ends.p1 + ends.p2), air.temperature) / 8e-6;
    const Clearance joint{8e-6, 6e-3, 10e-3, 0.0};
    const FaceGap rim{8e-6, 0.5e-3, 0.8e-3};
    CHECK_THAT(clearance(joint, ends, air).m / clearance(joint, ends, plain).m, WithinRel(1.0 + 6.0 * kn, 1e-12));
    CHECK_THAT(face_gap(rim, ends, air).m / face_gap(rim, ends, plain).m, WithinRel(1.0 + 6.0 * kn, 1e-12));
  }
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
  const Ends ends{101325.0, 40e3};
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
