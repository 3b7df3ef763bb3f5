// Every sentence that core/units can say about a text, whole, with the byte it points at.
#include <catch2/catch.hpp>
#include <string>

#include "units/parse.hpp"

using namespace airtally::units;

namespace {

struct Said {
  std::string sentence;
  std::size_t offset;
};

Said refusal(const std::string& text, Dimension dimension) {
  try {
    parse(text, dimension);
  } catch (const UnitError& error) {
    return {error.what(), error.offset};
  }
  return {"(accepted)", 0};
}

void check(const std::string& text, Dimension dimension, std::size_t offset, const std::string& sentence) {
  const Said said = refusal(text, dimension);
  CAPTURE(text);
  CHECK(said.sentence == sentence);
  CHECK(said.offset == offset);
}

const std::string counts =
    " says from where the pressure counts, but the key settles that: a vacuum down from the room, as a gauge shows it, "
    "'supply' and 'blow-off' up from the room, the pressure of a site up from zero. Write that number with the unit ";

}  // namespace

TEST_CASE("nothing at all, or no number, is refused with a pattern", "[units][errors]") {
  check("", Dimension::length, 0, "\"\" is empty; write a length, such as \"4 mm\".");
  check("  ", Dimension::flow, 0, "\"  \" is empty; write a flow, such as \"6 L/min\".");
  check("thick", Dimension::length, 0, "\"thick\": a number must stand in front; write a length, such as \"4 mm\".");
  check("4 mm ± x", Dimension::length, 8, "\"4 mm ± x\": a number must stand here; write a length, such as \"4 mm\".");
  check("20..", Dimension::length, 4, "\"20..\": a number is missing behind the two dots.");
  check("20 um ±", Dimension::length, 8, "\"20 um ±\": a number is missing behind the sign of the tolerance.");
}

TEST_CASE("what is no fraction of an inch says how one is written", "[units][errors]") {
  check("3/0 in", Dimension::length, 0, "\"3/0 in\": a fraction is written as in \"3/8\" or \"1 3/8\".");
  CHECK(refusal("3/8 spans", Dimension::length).sentence.find("is not a unit") != std::string::npos);
  CHECK(refusal("8 L/min", Dimension::flow).sentence == "(accepted)");
}

TEST_CASE("a bare number is refused with a hint", "[units][errors]") {
  check("4", Dimension::length, 0, "\"4\" is a bare number; say its unit, such as \"4 mm\".");
  check("3..5", Dimension::pressure, 0, "\"3..5\" is a bare number; say its unit, such as \"60 kPa\".");
  check("20 um..45", Dimension::length, 7,
        "\"20 um..45\": say the unit behind the second number, as in \"20..45 um\".");
  check("35 um ± 5", Dimension::length, 9,
        "\"35 um ± 5\": say the unit behind the tolerance too, as in \"35 um ± 5 um\" or \"35 um ± 10 %\".");
}

TEST_CASE("an unknown unit is answered by the list and the nearest", "[units][errors]") {
  check(
      "4 furlongs", Dimension::length, 2,
      "\"4 furlongs\": 'furlongs' is not a unit of length that airtally knows. Allowed: mm, um, nm, cm, m, km, in, ft, "
      "mil.");
  check("60 KPA", Dimension::pressure, 3,
        "\"60 KPA\": 'KPA' is not a unit of pressure that airtally knows. Allowed: kPa, Pa, hPa, MPa, GPa, mbar, bar, "
        "inHg, mmHg, Torr, psi, atm. Did you mean 'kPa'?");
  check(
      "4 mmm", Dimension::length, 2,
      "\"4 mmm\": 'mmm' is not a unit of length that airtally knows. Allowed: mm, um, nm, cm, m, km, in, ft, mil. Did "
      "you mean "
      "'mm'?");
  check("8 MS", Dimension::time, 2,
        "\"8 MS\": 'MS' is not a unit of time that airtally knows. Allowed: s, ms, us, min, h. Did you mean 'ms'?");
  check("0.3 x", Dimension::number, 4,
        "\"0.3 x\": 'x' is not a unit that airtally knows, and a plain number is needed here, such as \"0.35\" or \"35 "
        "%\".");
}

TEST_CASE("a unit of something else is named for what it measures", "[units][errors]") {
  check("4 kPa", Dimension::length, 2,
        "\"4 kPa\": 'kPa' measures pressure, but a length is needed here, such as \"4 mm\".");
  check("4 mm", Dimension::pressure, 2,
        "\"4 mm\": 'mm' measures length, but a pressure is needed here, such as \"60 kPa\".");
  check("0.35 mm", Dimension::number, 5,
        "\"0.35 mm\": 'mm' measures length, but a plain number is needed here, such as \"0.35\".");
  check("35 %", Dimension::length, 3, "\"35 %\": '%' measures a ratio, but a length is needed here, such as \"4 mm\".");
}

TEST_CASE("words for gauge and absolute pressure are refused with the reason", "[units][errors]") {
  check("40 kPa abs", Dimension::pressure, 3, "\"40 kPa abs\": 'kPa abs'" + counts + "'kPa' alone.");
  check("40 kPaA", Dimension::pressure, 3, "\"40 kPaA\": 'kPaA'" + counts + "'kPa' alone.");
  check("40 kPa(a)", Dimension::pressure, 3, "\"40 kPa(a)\": 'kPa(a)'" + counts + "'kPa' alone.");
  check("40 kPa gauge", Dimension::pressure, 3, "\"40 kPa gauge\": 'kPa gauge'" + counts + "'kPa' alone.");
  check("0.4 barg", Dimension::pressure, 4, "\"0.4 barg\": 'barg'" + counts + "'bar' alone.");
  check("6 psig", Dimension::pressure, 2, "\"6 psig\": 'psig'" + counts + "'psi' alone.");
  check("6 psia", Dimension::pressure, 2, "\"6 psia\": 'psia'" + counts + "'psi' alone.");
  check("20 inHg vacuum", Dimension::pressure, 3, "\"20 inHg vacuum\": 'inHg vacuum'" + counts + "'inHg' alone.");
}

TEST_CASE("numbers written another way are refused with the way that works", "[units][errors]") {
  check("4,5 mm", Dimension::length, 1,
        "\"4,5 mm\" has a comma; write decimals with a point, as in \"4.5 mm\", and thousands without a sign.");
  check("4, mm", Dimension::length, 1,
        "\"4, mm\" has a comma; write decimals with a point, as in \"4 mm\", and thousands without a sign.");
  check("1,000 um", Dimension::length, 1,
        "\"1,000 um\" has a comma; write \"1000 um\" or \"1.000 um\", whichever is meant.");
  check("1,234.5 mm", Dimension::length, 1,
        "\"1,234.5 mm\" has a comma; write decimals with a point, as in \"4 mm\", and thousands without a sign.");
  check("1 000 mm", Dimension::length, 2,
        "\"1 000 mm\" has two numbers one behind the other; write one number and its unit, such as \"4 mm\".");
  check(
      "20-45 um", Dimension::length, 2,
      "\"20-45 um\": a dash between two numbers is not clear; write a range as \"a..b\" and a tolerance as \"a ± b\".");
  check(
      "20–45 um", Dimension::length, 2,
      "\"20–45 um\": a dash between two numbers is not clear; write a range as \"a..b\" and a tolerance as \"a ± b\".");
  check("4 mm + 1 mm", Dimension::length, 5,
        "\"4 mm + 1 mm\": the plus sign is not clear; write a tolerance as \"a ± b\" or \"a +- b\".");
  check("1..2..3 mm", Dimension::length, 4,
        "\"1..2..3 mm\" has more than one tolerance or range; write either \"a ± b\" or \"a..b\".");
}

TEST_CASE("numbers that aren't finite are refused", "[units][errors]") {
  check("nan mm", Dimension::length, 0, "\"nan mm\" is not a finite number; write a length, such as \"4 mm\".");
  check("-inf mm", Dimension::length, 0, "\"-inf mm\" is not a finite number; write a length, such as \"4 mm\".");
  check("1e400 mm", Dimension::length, 0, "\"1e400 mm\" is too large or too small for a number.");
  check("1e300 GPa", Dimension::pressure, 0, "\"1e300 GPa\" is too large or too small for a number.");
  check("1e-320 um", Dimension::length, 0, "\"1e-320 um\" is too large or too small for a number.");
}

TEST_CASE("ranges and tolerances that contradict themselves are refused", "[units][errors]") {
  check("45..20 um", Dimension::length, 0,
        "\"45..20 um\" runs from the larger to the smaller; write the smaller number first.");
  check("35 um ± -5 um", Dimension::length, 9,
        "\"35 um ± -5 um\" has a negative tolerance; write it without the minus.");
  check("10 % ± 2 %", Dimension::number, 10,
        "\"10 % ± 2 %\" can be read in two ways; write both as plain numbers, as in \"0.10 ± 0.02\".");
  check(
      "21 C ± 10 %", Dimension::temperature, 11,
      "\"21 C ± 10 %\": a temperature has no zero that a percentage could count from; write its tolerance in degrees, "
      "as in \"21 C ± 2 C\".");
}

TEST_CASE("a long or dirty text is quoted short and clean", "[units][errors]") {
  check("x\n" + std::string(100, 'y'), Dimension::length, 0,
        "\"x?" + std::string(58, 'y') + "...\": a number must stand in front; write a length, such as \"4 mm\".");
  // The cut at 60 bytes doesn't split the two bytes of a micro sign.
  check(std::string(59, 'x') + "µm", Dimension::length, 0,
        "\"" + std::string(59, 'x') + "...\": a number must stand in front; write a length, such as \"4 mm\".");
}

TEST_CASE("what is to be written instead is quoted clean too", "[units][errors]") {
  check("1,640\n5", Dimension::length, 1,
        "\"1,640?5\" has a comma; write \"1640?5\" or \"1.640?5\", whichever is meant.");
}

TEST_CASE("litres per minute in letters alone are answered by the unit", "[units][errors]") {
  for (const char* text : {"5 lpm", "5 LPM"}) {
    std::string said;
    try {
      parse(text, Dimension::flow);
    } catch (const UnitError& error) {
      said = error.what();
    }
    CHECK_THAT(said, Catch::EndsWith("Did you mean 'L/min'?"));
  }
}
