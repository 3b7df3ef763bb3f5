#include "units/parse.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <clocale>
#include <cmath>
#include <random>
#include <string>

using namespace airtally::units;
using Catch::Matchers::WithinRel;

namespace {

void check_same(const char* text, const char* other, Dimension dimension) {
  CAPTURE(text, other);
  const Quantity a = parse(text, dimension);
  const Quantity b = parse(other, dimension);
  CHECK(a.value == b.value);
  CHECK(a.spread == b.spread);
  CHECK(a.low == b.low);
  CHECK(a.high == b.high);
}

}  // namespace

TEST_CASE("a number and its unit make an exact value", "[units]") {
  const Quantity q = parse("4 mm", Dimension::length);
  CHECK(q.value == 4e-3);
  CHECK(q.spread == Spread::exact);
  CHECK(q.low == q.value);
  CHECK(q.high == q.value);
  CHECK(q.standard_deviation() == 0.0);
  for (const char* text : {"4mm", "  4 mm  ", "+4 mm", "4. mm", "4.0\tmm", "0.4e1 mm", "4E0 mm", "4e-3 m", ".004 m"}) {
    CAPTURE(text);
    CHECK(parse(text, Dimension::length).value == 4e-3);
  }
  CHECK(parse("-5 C", Dimension::temperature).value == 268.15);
  CHECK(parse("−5 °C", Dimension::temperature).value == 268.15);
  CHECK(parse("0.35", Dimension::number).value == 0.35);
  CHECK(parse("35 %", Dimension::number).value == 0.35);
}

TEST_CASE("a fraction is a number", "[units]") {
  CHECK_THAT(parse("3/8 in", Dimension::length).value, WithinRel(9.525e-3, 1e-15));
  check_same("1 3/8 in", "1.375 in", Dimension::length);
  check_same("-1 1/2 in", "-1.5 in", Dimension::length);
  check_same("1/4in", "0.25 in", Dimension::length);
  check_same("1 1/4..1 3/8 in", "1.25..1.375 in", Dimension::length);
  check_same("1 1/4 in +/- 1/16 in", "1.25 in +- 0.0625 in", Dimension::length);
  check_same("1/2", "0.5", Dimension::number);
  for (const char* text : {"1/0 in", "1 8/3 in", "1 3/3 in"}) {
    CAPTURE(text);
    CHECK_THROWS_WITH(parse(text, Dimension::length),
                      Catch::Contains("a fraction is written as in \"3/8\" or \"1 3/8\"."));
  }
  // What is no fraction is told as before.
  for (const char* text : {"1.5 3/8 in", "1 /8 in", "1/ in", "1 3 in", "1 ", "1/2/3 in"}) {
    CAPTURE(text);
    CHECK_THROWS_AS(parse(text, Dimension::length), UnitError);
  }
}

TEST_CASE("a tolerance is two standard deviations of a normal spread", "[units]") {
  const Quantity q = parse("35 um ± 5 um", Dimension::length);
  CHECK(q.value == 35e-6);
  CHECK(q.spread == Spread::normal);
  CHECK_THAT(q.low, WithinRel(30e-6, 1e-15));
  CHECK_THAT(q.high, WithinRel(40e-6, 1e-15));
  CHECK_THAT(q.standard_deviation(), WithinRel(2.5e-6, 1e-14));
  for (const char* text : {"35 ± 5 um", "35±5 um", "35+-5um", "35 um +- 5 um", "35 um +/- 5 um", "35 µm ± 0.005 mm"}) {
    check_same(text, "35 um ± 5 um", Dimension::length);
  }
}

TEST_CASE("a tolerance in percent is a share of the value, whatever its sign", "[units]") {
  const Quantity q = parse("60 kPa ± 10 %", Dimension::pressure);
  CHECK(q.value == 60e3);
  CHECK_THAT(q.low, WithinRel(54e3, 1e-15));
  CHECK_THAT(q.high, WithinRel(66e3, 1e-15));
  const Quantity below = parse("-60 kPa ±10%", Dimension::pressure);
  CHECK_THAT(below.low, WithinRel(-66e3, 1e-15));
  CHECK_THAT(below.high, WithinRel(-54e3, 1e-15));
  CHECK_THAT(parse("0.4 ± 10 %", Dimension::number).high, WithinRel(0.44, 1e-15));
}

TEST_CASE("a range lies anywhere between its ends", "[units]") {
  const Quantity q = parse("20..45 um", Dimension::length);
  CHECK(q.spread == Spread::uniform);
  CHECK(q.low == 20e-6);
  CHECK(q.high == 45e-6);
  CHECK_THAT(q.value, WithinRel(32.5e-6, 1e-15));
  // Standard deviation of the uniform distribution: width / sqrt(12).
  CHECK_THAT(q.standard_deviation(), WithinRel(25e-6 / std::sqrt(12.0), 1e-14));
  for (const char* text : {"20 um..45 um", "20 .. 45 um", "20 um .. 45e-6 m", "20...045e3 um"}) {
    check_same(text, "20..45 um", Dimension::length);
  }
  const Quantity cold = parse("-10 C..5 C", Dimension::temperature);
  CHECK(cold.low == 263.15);
  CHECK_THAT(cold.value, WithinRel(270.65, 1e-15));
}

TEST_CASE("a tolerance of a temperature is a difference, without the zero of its scale", "[units]") {
  const Quantity q = parse("21 C ± 2 K", Dimension::temperature);
  CHECK_THAT(q.low, WithinRel(292.15, 1e-15));
  CHECK_THAT(parse("68 F ± 9 F", Dimension::temperature).high, WithinRel(298.15, 1e-15));
}

TEST_CASE("no spread at all is exact", "[units]") {
  CHECK(parse("4 mm ± 0 mm", Dimension::length).is_exact());
  CHECK(parse("4..4 mm", Dimension::length).is_exact());
}

TEST_CASE("a double converts to an exact quantity", "[units]") {
  const Quantity q = 0.004;
  CHECK(q.is_exact());
  CHECK(q.low == 0.004);
  CHECK(q.high == 0.004);
}

TEST_CASE("reading doesn't depend on the locale", "[units]") {
  const std::string before = std::setlocale(LC_ALL, nullptr);
  // Where no locale with a decimal comma is installed this changes nothing and the check still holds.
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8"}) {
    if (std::setlocale(LC_ALL, name) != nullptr) break;
  }
  const double value = parse("4.5 mm", Dimension::length).value;
  std::setlocale(LC_ALL, before.c_str());
  CHECK(value == 4.5e-3);
}

TEST_CASE("whatever text comes in, a finite quantity or a UnitError comes out", "[units][property]") {
  std::mt19937 random(7);
  const std::string pieces[] = {"4",     "-", ".", "..", "±",      "+-", "mm",   "kPa", "e",
                                "9e308", "%", " ", ",",  "nan",    "\n", "\xff", "µ",   "(",
                                "a",     "0", "/", "s2", "1e-320", "C",  "²",    "+",   "inf"};
  int good = 0;
  for (int i = 0; i < 20000; ++i) {
    std::string text;
    const int length = static_cast<int>(random() % 7);
    for (int k = 0; k < length; ++k) text += pieces[random() % std::size(pieces)];
    const Dimension dimension = std::array{Dimension::number, Dimension::length, Dimension::pressure}[random() % 3];
    try {
      const Quantity q = parse(text, dimension);
      ++good;
      if (!(std::isfinite(q.low) && q.low <= q.value && q.value <= q.high && std::isfinite(q.high))) FAIL_CHECK(text);
    } catch (const UnitError& error) {
      if (error.offset > text.size()) FAIL_CHECK(text);
    }
  }
  CHECK(good > 100);  // the pieces do make some quantities, or this test would say nothing
}

TEST_CASE("a slip of the unit is put right by the unit that fits the limits", "[units]") {
  CHECK(same_number_within("6 m", Dimension::length, 1e-5, 0.1) == "6 mm");
  CHECK(same_number_within("2um", Dimension::length, 1e-5, 0.1) == "2 mm");
  CHECK(same_number_within("600 Pa", Dimension::pressure, 1e5, 1e6) == "600 kPa");
  CHECK(same_number_within("900 MPa", Dimension::pressure, 1.0, 2.0) == std::nullopt);
  CHECK(same_number_within("6 m ± 1 m", Dimension::length, 1e-5, 0.1) == std::nullopt);
  CHECK(same_number_within("six m", Dimension::length, 1e-5, 0.1) == std::nullopt);
  CHECK(same_number_within("6 kPa", Dimension::length, 1e-5, 0.1) == std::nullopt);
  CHECK(same_number_within("293 C", Dimension::temperature, 223.15, 353.15) == "293 K");
  // Nobody writes inches of mercury for kilopascals.
  CHECK(same_number_within("31 inHg", Dimension::pressure, 0.0, 101325.0) == std::nullopt);
  CHECK(same_number_within("600 ft", Dimension::length, 1e-5, 0.1) == std::nullopt);
}

TEST_CASE("limits are told in the unit that was written, rounded inwards", "[units]") {
  CHECK(range_in_its_unit("31 inHg", Dimension::pressure, 0.0, 101325.0) == "0 inHg .. 29.92 inHg");
  CHECK(range_in_its_unit("1.2 bar", Dimension::pressure, 1e3, 101325.0) == "0.01 bar .. 1.013 bar");
  CHECK(range_in_its_unit("1 in", Dimension::length, 1e-5, 0.1) == "0.0003938 in .. 3.937 in");
  CHECK(range_in_its_unit("120 Pa", Dimension::pressure, 0.0, 100.0) == std::nullopt);
  CHECK(range_in_its_unit("a lot", Dimension::pressure, 0.0, 100.0) == std::nullopt);
}
