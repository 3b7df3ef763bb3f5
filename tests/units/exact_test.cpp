#include "units/exact.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <string>

#include "errors.hpp"
#include "units/parse.hpp"

using namespace airtally::units;

TEST_CASE("what is shown exactly reads back as the same double, in few digits", "[units][property]") {
  CHECK(exact(parse("0.125 mm", Dimension::length).value, "mm") == "0.125 mm");
  CHECK(exact(parse("0.3 mm", Dimension::length).value, "mm") == "0.3 mm");
  CHECK(exact(parse("10 mm", Dimension::length).value, "mm") == "10 mm");
  CHECK(exact(parse("12345 um", Dimension::length).value, "mm") == "12.345 mm");
  CHECK(exact(0.0, "mm") == "0 mm");
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> length(1e-5, 1e-2);
  for (int i = 0; i < 1000; ++i) {
    const double si = i % 2 == 0 ? length(random) : parse(std::to_string(i) + "e-4 in", Dimension::length).value;
    const std::string text = exact(si, "mm");
    CAPTURE(text);
    CHECK(parse(text, Dimension::length).value == si);
  }
}

TEST_CASE("what isn't finite, or no unit, can't be shown exactly", "[units][errors]") {
  CHECK_THROWS_AS(exact(std::nan(""), "mm"), airtally::DomainError);
  CHECK_THROWS_AS(exact(1.0, "furlong"), airtally::DomainError);
}
