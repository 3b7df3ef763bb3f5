#include "report/plain_number.hpp"

#include <catch2/catch.hpp>

using airtally::report::plain_number;

TEST_CASE("a number for people has no exponent however big it is", "[report][closed-form]") {
  CHECK(plain_number(61.3, 2) == "61");
  CHECK(plain_number(250.0, 2) == "250");
  CHECK(plain_number(253.0, 2) == "250");
  CHECK(plain_number(99.6, 2) == "100");
  CHECK(plain_number(-1234.0, 3) == "-1230");
  CHECK(plain_number(999.4, 3) == "999");
  CHECK(plain_number(999.6, 3) == "1000");
  CHECK(plain_number(0.1, 3) == "0.1");
  CHECK(plain_number(0.0, 3) == "0");
}
