#include "report/safe_side.hpp"

#include <catch2/catch.hpp>

#include "units/parse.hpp"

using namespace airtally;
using report::no_less_than;
using report::no_more_than;
using units::Dimension;

TEST_CASE("a limit that may be used up is never rounded up", "[report][property]") {
  CHECK(no_more_than(327.9e-6, Dimension::mass) == "327 mg");
  CHECK(no_more_than(327.2e-6, Dimension::mass) == "327 mg");
  CHECK(no_more_than(327e-6, Dimension::mass) == "327 mg");
  CHECK(no_more_than(0.9996e-3, Dimension::mass) == "999 mg");
  CHECK(no_more_than(1.439, Dimension::acceleration, "m/s2") == "1.43 m/s2");
  CHECK(no_more_than(1239.0, Dimension::acceleration, "m/s2") == "1230 m/s2");
  CHECK(no_more_than(0.0, Dimension::mass) == "0 g");
}

TEST_CASE("a limit that must be reached is never rounded down", "[report][property]") {
  CHECK(no_less_than(69.61e-3, Dimension::time) == "69.7 ms");
  CHECK(no_less_than(69.6e-3, Dimension::time) == "69.6 ms");
  CHECK(no_less_than(0.99991, Dimension::time) == "1.00 s");
  const report::Scale ms(*units::find_unit("ms", Dimension::time), 0);
  CHECK(no_less_than(0.0911, Dimension::time, ms) == "92");
  CHECK(no_less_than(0.091, Dimension::time, ms) == "91");
  const report::Scale tenth(*units::find_unit("kPa", Dimension::pressure), 1);
  CHECK(no_less_than(67.51e3, Dimension::pressure, tenth) == "67.6");
  CHECK(no_less_than(0.0, Dimension::pressure, tenth) == "0.0");
}

TEST_CASE("what is printed as a limit lies on its safe side, whatever the figure", "[report][property]") {
  for (double x = 1.0e-7; x < 1e3; x *= 1.0173) {
    CAPTURE(x);
    for (const Dimension dimension : {Dimension::mass, Dimension::time, Dimension::flow}) {
      const double down = units::parse(no_more_than(x, dimension), dimension).value;
      const double up = units::parse(no_less_than(x, dimension), dimension).value;
      CHECK(down <= x * (1.0 + 1e-9));
      CHECK(down > x * 0.98);
      CHECK(up >= x * (1.0 - 1e-9));
      CHECK(up < x * 1.02);
    }
  }
}
