#include "units/meant.hpp"

#include <array>
#include <catch2/catch.hpp>

using namespace airtally::units;

TEST_CASE("of several quantities a text is the one that it has the unit of, or nearly so", "[units]") {
  constexpr std::array<Dimension, 2> dials{Dimension::pressure, Dimension::current};
  CHECK(meant("52.3 kPa", dials) == 0);
  CHECK(meant("361mA", dials) == 1);
  CHECK(meant("362 ma", dials) == 1);  // one slip from Pa, none but a capital from mA
  CHECK(meant("52.3 kpa", dials) == 0);
  CHECK(meant("362 furlongs", dials) == 0);
  CHECK(meant("362", dials) == 0);
  CHECK(meant("", dials) == 0);
  constexpr std::array<Dimension, 2> turned{Dimension::current, Dimension::pressure};
  CHECK(meant("52.3 kpa", turned) == 1);
}
