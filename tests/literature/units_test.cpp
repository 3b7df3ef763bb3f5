#include <catch2/catch.hpp>

#include "gas/air.hpp"
#include "units/parse.hpp"

using namespace airtally::units;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

double si(const char* text, Dimension dimension) { return parse(text, dimension).value; }

// Free air in millilitres per minute.
double free_air(const char* text) { return si(text, Dimension::flow) / si("1 mL/min", Dimension::flow); }

}  // namespace

// NIST Special Publication 811 (2008), appendix B.8; the factors are printed to seven digits, so half a unit of the
// last.
TEST_CASE("factors agree with the printed table of conversion factors", "[units][literature]") {
  CHECK_THAT(si("1 atm", Dimension::pressure), WithinAbs(1.01325e5, 0.0));
  CHECK_THAT(si("1 inHg", Dimension::pressure), WithinAbs(3.386389e3, 5e-4));
  CHECK_THAT(si("1 mmHg", Dimension::pressure), WithinAbs(1.333224e2, 5e-5));
  CHECK_THAT(si("1 Torr", Dimension::pressure), WithinAbs(1.333224e2, 5e-5));
  CHECK_THAT(si("1 psi", Dimension::pressure), WithinAbs(6.894757e3, 5e-4));
  CHECK_THAT(si("1 in", Dimension::length), WithinAbs(2.54e-2, 1e-17));
  CHECK_THAT(si("1 deg", Dimension::angle), WithinAbs(1.745329e-2, 5e-9));
  CHECK_THAT(si("1 rpm", Dimension::angular_speed), WithinAbs(1.047198e-1, 5e-8));
  CHECK_THAT(si("1 g", Dimension::acceleration), WithinAbs(9.80665, 0.0));
}

// ISO 8778:2003: the standard reference atmosphere is 20 C, 100 kPa, 65 % humidity; 1.185 kg/m3 is its stated density
// (a definition; recalled, the standard itself wasn't at hand).
TEST_CASE("a litre of free air weighs what its reference atmosphere says", "[units][literature]") {
  CHECK_THAT(si("60 L/min", Dimension::flow), WithinRel(1.185e-3, 1e-15));
  CHECK(airtally::gas::free_air_temperature == 293.15);
  CHECK(airtally::gas::free_air_pressure == 1e5);
}

// DIN 1343 normal state, 273.15 K and 101325 Pa: (101325/273.15)/(100000/293.15) = 1.0874, to the printed digits.
TEST_CASE("a normal litre holds the molecules of 1.0874 litres of free air", "[units][literature]") {
  CHECK_THAT(free_air("1 NL/min"), WithinAbs(1087.4, 0.05));
  CHECK_THAT(free_air("1 sccm"), WithinAbs(1.0874, 5e-5));
  CHECK_THAT(si("1 slm", Dimension::flow), WithinRel(si("1 NL/min", Dimension::flow), 1e-15));
}

// Public conversion tables of leak rates after NIST: 1 sccm = 0.0168875 mbar L/s and 1 mbar L/s = 59.2 sccm, both with
// the gas at 0 C; 1 Torr L/s = 1.333 mbar L/s. Our pressure-volume units take the gas at 20 C, where the same rate
// carries 273.15/293.15 of the molecules. Tolerances: half a unit of the last printed digit.
TEST_CASE("leak-rate units agree with the tables once the temperature is the same", "[units][literature]") {
  const double warm_to_cold = 293.15 / 273.15;
  const double sccm = si("1 sccm", Dimension::flow);
  CHECK_THAT(sccm / (si("1 Pa m3/s", Dimension::flow) * warm_to_cold), WithinAbs(1.68875e-3, 5e-9));
  CHECK_THAT(sccm / (si("1 mbar L/s", Dimension::flow) * warm_to_cold), WithinAbs(0.0168875, 5e-8));
  CHECK_THAT(si("1 mbar L/s", Dimension::flow) * warm_to_cold / sccm, WithinAbs(59.2, 0.05));
  CHECK_THAT(si("1 Torr L/s", Dimension::flow) / si("1 mbar L/s", Dimension::flow), WithinAbs(1.333, 5e-4));
}

// Definition of the leak rate, Q = V dp/dt: 5 mL rising by 2 kPa a second is 0.01 Pa m3/s = 0.1 mbar L/s; at 100 kPa
// and 20 C that is 6 mL/min of free air.
TEST_CASE("a leak rate is a volume times the rate of pressure rise", "[units][literature]") {
  const double rate = si("5 mL", Dimension::volume) * si("2 kPa", Dimension::pressure);
  CHECK_THAT(rate * si("1 Pa m3/s", Dimension::flow), WithinRel(si("0.1 mbar L/s", Dimension::flow), 1e-14));
  CHECK_THAT(free_air("0.1 mbar L/s"), WithinRel(6.0, 1e-14));
  CHECK_THAT(si("1 mL/min", Dimension::flow) / si("1 Pa m3/s", Dimension::flow), WithinAbs(1.66667e-3, 5e-9));
}
