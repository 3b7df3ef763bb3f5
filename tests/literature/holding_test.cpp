#include "laws/holding.hpp"

#include <catch2/catch.hpp>

#include "gas/site.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;

// F = dp pi d^2/4: value recomputed; formula read in several handling glossaries. Four printed digits.
TEST_CASE("60 kPa hold 12 mN on half a millimetre and 1.2 N on five", "[holding][literature]") {
  CHECK_THAT(1e3 * laws::suction_force(60e3, 0.5e-3), WithinRel(11.78, 5e-4));
  CHECK_THAT(1e3 * laws::suction_force(60e3, 1e-3), WithinRel(47.12, 5e-4));
  CHECK_THAT(1e3 * laws::suction_force(60e3, 2e-3), WithinRel(188.5, 5e-4));
  CHECK_THAT(1e3 * laws::suction_force(60e3, 5e-3), WithinRel(1178.0, 5e-4));
}

// The three handling cases of a part of 74.2 mg, 30 m/s2, friction 0.4, safety 2. Common practice, no source; values
// recomputed, four to five printed digits.
TEST_CASE("handling cases: lift, side move and vertical face", "[holding][literature]") {
  const double m = 74.2e-6;
  CHECK_THAT(1e3 * laws::lift_force(m, 30.0, 2.0), WithinRel(5.907, 1e-4));
  const double side = laws::slip_force(m * laws::free_fall, m * 30.0, 0.4, 2.0);
  CHECK_THAT(1e3 * side, WithinRel(12.585, 1e-4));
  CHECK_THAT(1e3 * laws::slip_force(0.0, m * (laws::free_fall + 30.0), 0.4, 2.0), WithinRel(14.768, 1e-4));
  // The vacuum that the side move needs at a bore of 1.0 and of 0.5 mm, in kPa.
  CHECK_THAT(side / laws::suction_force(1e3, 1.0e-3), WithinRel(16.02, 5e-4));
  CHECK_THAT(side / laws::suction_force(1e3, 0.5e-3), WithinRel(64.1, 1e-3));
}

// M = F d/2: rigid-body estimate, common practice, no source; three printed digits.
TEST_CASE("a millimetre at 60 kPa holds 23.6 uN m before it peels", "[holding][literature]") {
  CHECK_THAT(1e6 * laws::holding_moment(laws::suction_force(60e3, 1e-3), 1e-3), WithinRel(23.6, 2e-3));
}
