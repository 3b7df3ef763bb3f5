#include "units/unit.hpp"

#include <catch2/catch.hpp>
#include <numbers>
#include <random>
#include <set>
#include <string>

#include "units/parse.hpp"

using namespace airtally::units;
using Catch::Matchers::WithinRel;

namespace {

struct Row {
  const char* text;
  Dimension dimension;
  double si;
};

}  // namespace

// Factors as the SI Brochure (9th ed., 2019) and NIST SP 811 (2008), appendix B.8, define them; where SP 811 prints a
// rounded factor the exact one is written out here and the printed one checked in tests/literature/units_test.cpp.
// Tolerance: one rounding of a double, since all of these are definitions.
TEST_CASE("every unit has its defined factor", "[units][closed-form]") {
  constexpr double pi = std::numbers::pi;
  constexpr double rho = 1.185;
  constexpr double normal = 1.01325 * 293.15 / 273.15 * rho;
  const Row rows[] = {
      {"1", Dimension::number, 1.0},
      {"1 %", Dimension::number, 0.01},
      {"1 m", Dimension::length, 1.0},
      {"1 km", Dimension::length, 1e3},
      {"1 cm", Dimension::length, 0.01},
      {"1 mm", Dimension::length, 1e-3},
      {"1 um", Dimension::length, 1e-6},
      {"1 micron", Dimension::length, 1e-6},
      {"1 nm", Dimension::length, 1e-9},
      {"1 in", Dimension::length, 0.0254},
      {"1 ft", Dimension::length, 0.3048},
      {"1 mil", Dimension::length, 2.54e-5},
      {"1 ft3/min", Dimension::flow, rho * 0.028316846592 / 60.0},
      {"1 ft3/h", Dimension::flow, rho * 0.028316846592 / 3600.0},
      {"1 in3", Dimension::volume, 1.6387064e-5},
      {"1 ft3", Dimension::volume, 0.028316846592},
      {"1 oz", Dimension::mass, 0.028349523125},
      {"1 lb", Dimension::mass, 0.45359237},
      {"1 in/s", Dimension::speed, 0.0254},
      {"1 in/s2", Dimension::acceleration, 0.0254},
      {"1 Pa", Dimension::pressure, 1.0},
      {"1 hPa", Dimension::pressure, 100.0},
      {"1 kPa", Dimension::pressure, 1e3},
      {"1 MPa", Dimension::pressure, 1e6},
      {"1 GPa", Dimension::pressure, 1e9},
      {"1 mbar", Dimension::pressure, 100.0},
      {"1 bar", Dimension::pressure, 1e5},
      {"1 inHg", Dimension::pressure, 3386.388640341},
      {"1 mmHg", Dimension::pressure, 133.322387415},
      {"1 Torr", Dimension::pressure, 101325.0 / 760.0},
      {"1 psi", Dimension::pressure, 6894.757293168361},
      {"1 atm", Dimension::pressure, 101325.0},
      {"1 L/min", Dimension::flow, rho / 60e3},
      {"1 l/min", Dimension::flow, rho / 60e3},
      {"1 mL/min", Dimension::flow, rho / 60e6},
      {"1 ml/min", Dimension::flow, rho / 60e6},
      {"1 L/s", Dimension::flow, rho / 1e3},
      {"1 L/h", Dimension::flow, rho / 3.6e6},
      {"1 m3/h", Dimension::flow, rho / 3600.0},
      {"1 cm3/min", Dimension::flow, rho / 60e6},
      {"1 sccm", Dimension::flow, normal / 60e6},
      {"1 slm", Dimension::flow, normal / 60e3},
      {"1 NL/min", Dimension::flow, normal / 60e3},
      {"1 mbar L/s", Dimension::flow, rho * 1e-6},
      {"1 Torr L/s", Dimension::flow, rho * 1e-8 * 101325.0 / 760.0},
      {"1 Pa m3/s", Dimension::flow, rho * 1e-5},
      {"1 kg/s", Dimension::flow, 1.0},
      {"1 g/s", Dimension::flow, 1e-3},
      {"1 g/min", Dimension::flow, 1e-3 / 60.0},
      {"1 m3", Dimension::volume, 1.0},
      {"1 L", Dimension::volume, 1e-3},
      {"1 dm3", Dimension::volume, 1e-3},
      {"1 mL", Dimension::volume, 1e-6},
      {"1 cm3", Dimension::volume, 1e-6},
      {"1 mm3", Dimension::volume, 1e-9},
      {"1 uL", Dimension::volume, 1e-9},
      {"1 kg", Dimension::mass, 1.0},
      {"1 g", Dimension::mass, 1e-3},
      {"1 mg", Dimension::mass, 1e-6},
      {"1 ug", Dimension::mass, 1e-9},
      {"1 s", Dimension::time, 1.0},
      {"1 ms", Dimension::time, 1e-3},
      {"1 us", Dimension::time, 1e-6},
      {"1 min", Dimension::time, 60.0},
      {"1 h", Dimension::time, 3600.0},
      {"1 rad", Dimension::angle, 1.0},
      {"1 deg", Dimension::angle, pi / 180.0},
      {"1 turn", Dimension::angle, 2.0 * pi},
      {"1 rev", Dimension::angle, 2.0 * pi},
      {"1 A", Dimension::current, 1.0},
      {"1 mA", Dimension::current, 1e-3},
      {"1 uA", Dimension::current, 1e-6},
      {"1 V", Dimension::voltage, 1.0},
      {"1 mV", Dimension::voltage, 1e-3},
      {"1 uV", Dimension::voltage, 1e-6},
      {"1 m3/(s Pa)", Dimension::conductance, 1.0},
      {"1 dm3/(s bar)", Dimension::conductance, 1e-8},
      {"1 L/(s bar)", Dimension::conductance, 1e-8},
      {"1 L/(min bar)", Dimension::conductance, 1e-8 / 60.0},
      {"1 m/s2", Dimension::acceleration, 1.0},
      {"1 mm/s2", Dimension::acceleration, 1e-3},
      {"1 g", Dimension::acceleration, 9.80665},
      {"1 C", Dimension::temperature, 274.15},
      {"1 K", Dimension::temperature, 1.0},
      {"1 F", Dimension::temperature, 460.67 * 5.0 / 9.0},
      {"1 N", Dimension::force, 1.0},
      {"1 mN", Dimension::force, 1e-3},
      {"1 uN", Dimension::force, 1e-6},
      {"1 N m", Dimension::torque, 1.0},
      {"1 N cm", Dimension::torque, 1e-2},
      {"1 N mm", Dimension::torque, 1e-3},
      {"1 mN m", Dimension::torque, 1e-3},
      {"1 uN m", Dimension::torque, 1e-6},
      {"1 m/s", Dimension::speed, 1.0},
      {"1 mm/s", Dimension::speed, 1e-3},
      {"1 rad/s", Dimension::angular_speed, 1.0},
      {"1 deg/s", Dimension::angular_speed, pi / 180.0},
      {"1 rpm", Dimension::angular_speed, pi / 30.0},
      {"1 rev/s", Dimension::angular_speed, 2.0 * pi},
      {"1 rad/s2", Dimension::angular_acceleration, 1.0},
      {"1 deg/s2", Dimension::angular_acceleration, pi / 180.0},
      {"1 Hz", Dimension::frequency, 1.0},
      {"1 kHz", Dimension::frequency, 1e3},
      {"1 kg m2", Dimension::inertia, 1.0},
      {"1 g cm2", Dimension::inertia, 1e-7},
      {"1 g mm2", Dimension::inertia, 1e-9},
      {"1 ohm", Dimension::resistance, 1.0},
      {"1 kohm", Dimension::resistance, 1e3},
      {"1 Mohm", Dimension::resistance, 1e6},
      {"1 kg/m3", Dimension::density, 1.0},
      {"1 g/cm3", Dimension::density, 1e3},
      {"1 K", Dimension::warming, 1.0},
      {"1 C", Dimension::warming, 1.0},
      {"1 F", Dimension::warming, 5.0 / 9.0},
  };
  std::set<std::pair<Dimension, std::string>> seen;
  for (const Row& row : rows) {
    CAPTURE(row.text);
    CHECK_THAT(parse(row.text, row.dimension).value, WithinRel(row.si, 1e-15));
    const std::string text = row.text;
    const std::string symbol = text.size() > 1 ? text.substr(2) : std::string();
    seen.insert({row.dimension, symbol});
  }
  for (const Unit& unit : all_units()) {
    CAPTURE(unit.symbol);
    CHECK(seen.count({unit.dimension, std::string(unit.symbol)}) == 1);
  }
}

TEST_CASE("decimal prefixes give the very double that the SI literal is", "[units][closed-form]") {
  CHECK(parse("35 um", Dimension::length).value == 35e-6);
  CHECK(parse("4.6 mm", Dimension::length).value == 4.6e-3);
  CHECK(parse("0.30 dm3/(s bar)", Dimension::conductance).value == 0.30e-8);
  CHECK(parse("12 mg", Dimension::mass).value == 12e-6);
}

TEST_CASE("fixed points of the temperature scales agree", "[units][closed-form]") {
  CHECK(parse("0 C", Dimension::temperature).value == 273.15);
  CHECK_THAT(parse("32 F", Dimension::temperature).value, WithinRel(273.15, 1e-15));
  CHECK_THAT(parse("212 F", Dimension::temperature).value, WithinRel(373.15, 1e-15));
  CHECK_THAT(parse("-40 F", Dimension::temperature).value,
             WithinRel(parse("-40 C", Dimension::temperature).value, 1e-15));
}

TEST_CASE("a value goes to SI and back unchanged in every unit", "[units][property]") {
  std::mt19937_64 random(20240601);
  std::uniform_real_distribution<double> power(-9.0, 9.0);
  for (const Unit& unit : all_units()) {
    for (int i = 0; i < 200; ++i) {
      const double number = (i % 2 == 0 ? 1.0 : -1.0) * std::pow(10.0, power(random));
      const double back = from_si(to_si(number, unit), unit);
      CAPTURE(unit.symbol, number);
      // Four roundings; a shifted scale loses digits of numbers small against the shift.
      CHECK(std::abs(back - number) <= 4e-16 * 2.0 * (std::abs(number) + 2.0 * unit.shift));
    }
  }
}

TEST_CASE("no dimension has two units that are spelt alike", "[units][property]") {
  for (const Unit& unit : all_units()) {
    CAPTURE(unit.symbol, name_of(unit.dimension));
    CHECK(find_unit(unit.symbol, unit.dimension) == &unit);
  }
}

TEST_CASE("units may be spelt with other dots, carets, brackets and code points", "[units]") {
  const Unit* c = find_unit("dm3/(s bar)", Dimension::conductance);
  REQUIRE(c != nullptr);
  for (const char* text :
       {"dm3/(s·bar)", "dm^3/(s bar)", "dm³/(s⋅bar)", "dm3/(s.bar)", "dm3 / ( s * bar )", "dm3/s/bar"}) {
    CAPTURE(text);
    CHECK(find_unit(text, Dimension::conductance) == c);
  }
  CHECK(find_unit("\u00b5m", Dimension::length) == find_unit("um", Dimension::length));
  CHECK(find_unit("\u03bcm", Dimension::length) == find_unit("um", Dimension::length));
  CHECK(find_unit("m/s²", Dimension::acceleration) == find_unit("m/s2", Dimension::acceleration));
  CHECK(find_unit("m/s^2", Dimension::acceleration) == find_unit("m/s2", Dimension::acceleration));
  CHECK(find_unit("°C", Dimension::temperature) == find_unit("C", Dimension::temperature));
  CHECK(find_unit("°", Dimension::angle) == find_unit("deg", Dimension::angle));
  CHECK(find_unit("N·m", Dimension::torque) == find_unit("Nm", Dimension::torque));
  CHECK(find_unit("m m", Dimension::length) == nullptr);
}

TEST_CASE("a symbol that two dimensions share means the mass when no dimension is asked", "[units]") {
  REQUIRE(find_unit("g") != nullptr);
  CHECK(find_unit("g")->dimension == Dimension::mass);
  CHECK(find_unit("g", Dimension::acceleration)->dimension == Dimension::acceleration);
  CHECK(find_unit("furlong") == nullptr);
}

TEST_CASE("every dimension has units, a name and an example that reads", "[units][property]") {
  for (int i = 0; i <= static_cast<int>(Dimension::warming); ++i) {
    const auto dimension = static_cast<Dimension>(i);
    CAPTURE(name_of(dimension));
    CHECK_FALSE(units_of(dimension).empty());
    CHECK(parse(example_of(dimension), dimension).value > 0.0);
  }
}
