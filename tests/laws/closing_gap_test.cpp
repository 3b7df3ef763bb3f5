#include "laws/closing_gap.hpp"

#include <catch2/catch.hpp>

#include "support/slopes.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;

namespace {
const gas::Air air = gas::air_at(293.15);
}

TEST_CASE("at a gap of a few micrometres a closing nozzle leaks as the face gap does", "[laws][closed-form]") {
  const laws::Ends ends(101325.0, 40e3);
  const double narrow = laws::face_gap({2e-6, 0.5e-3, 0.9e-3}, ends, air).m;
  CHECK_THAT(laws::closing_gap({2e-6, 0.5e-3, 0.9e-3}, ends, air).m, WithinRel(narrow, 2e-3));
}

// p1^2 - p2^2 = 1.5 G^2 R T at a gap wide enough for friction not to matter.
TEST_CASE("at a wide gap the head in the curtain sets the flow", "[laws][closed-form]") {
  const laws::ClosingGap gap{1e-3, 0.5e-3, 0.9e-3};
  const laws::Ends ends(101325.0, 100e3);
  const double area = 2 * 3.14159265358979 * 0.5e-3 * 1e-3;
  const double head = std::sqrt((101325.0 * 101325.0 - 100e3 * 100e3) / (1.5 * air.rt));
  CHECK_THAT(laws::closing_gap(gap, ends, air).m, WithinRel(area * head, 5e-3));
}

TEST_CASE("the closing gap is odd, monotone and has true slopes", "[laws][property]") {
  for (double h : {1e-6, 2e-5, 1e-4, 5e-4}) {
    const laws::ClosingGap gap{h, 0.5e-3, 0.9e-3};
    for (double p2 : {20e3, 60e3, 95e3, 101e3, 101324.5}) {
      CAPTURE(h, p2);
      const auto law = [&](double a, double b) { return laws::closing_gap(gap, laws::Ends(a, b), air); };
      const laws::Flow there = law(101325.0, p2), back = law(p2, 101325.0);
      CHECK(there.m == -back.m);
      CHECK(there.dm_dp1 > 0.0);
      CHECK(there.dm_dp2 < 0.0);
      const double step = p2 > 101.3e3 ? 1e-3 : 1.0;  // it bends near rest
      CHECK_THAT(there.dm_dp1, WithinRel((law(101325.0 + step, p2).m - law(101325.0 - step, p2).m) / (2 * step), 1e-5));
      CHECK_THAT(there.dm_dp2, WithinRel((law(101325.0, p2 + step).m - law(101325.0, p2 - step).m) / (2 * step), 1e-4));
    }
  }
}
