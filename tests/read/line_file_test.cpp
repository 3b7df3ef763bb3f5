#include "read/line_file.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "gas/site.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;
using line::Kind;

namespace {

constexpr double l_min = 1.185 / 60e3;

// The line of docs/line-format.md: an invented jewel setter.
const char* const jewel_setter = R"toml(format = 1
title = "Jewel setter, rotary joint"
[site]
altitude = "340 m"
temperature = "21 C"

[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa", "8 L/min"], ["30 kPa", "4.6 L/min"], ["60 kPa", "1.1 L/min"], ["71 kPa", "0 L/min"]]
current = [["0 kPa", "210 mA"], ["71 kPa", "390 mA"]]
volume = "6 mL"

[[element]]
name = "supply hose"
kind = "tube"
bore = "4 mm"
length = "0.8 m"
leak = { hole = "0.08 mm" }

[[element]]
name = "gauge tee"
kind = "tee"
volume = "0.4 mL"
gauge = { accuracy = "0.5 kPa", resolution = "0.1 kPa" }

[[element]]
name = "valve"
kind = "valve"
conductance = "0.30 dm3/(s bar)"
critical-ratio = 0.35
opens = "8 ms"
closes = "10 ms"
vent = { conductance = "0.25 dm3/(s bar)", critical-ratio = 0.4 }
blow-off = { pressure = "30 kPa" }

[[element]]
name = "filter"
kind = "filter"
rated = { flow = "6 L/min", drop = "2 kPa" }

[[element]]
name = "rotary joint"
kind = "rotary"
bore = "2 mm"
length = "22 mm"
leak = [
  { clearance = "35 um ± 5 um", diameter = "5 mm", length = "4 mm", eccentricity = 0.5 },
  { rated = "12 mL/min", at = "60 kPa", law = "orifice" },
]

[[element]]
name = "nozzle"
kind = "nozzle"
bore = "0.9..1.1 mm"
length = "6 mm"
rim = "1.8 mm"

[part]
name = "cap jewel"
mass = "12 mg"
gap = "4 um"
porosity = { rated = "5 mL/min", at = "40 kPa" }
length = "3 mm"

[move]
lift = "5 m/s2"
)toml";

}  // namespace

TEST_CASE("a line file becomes a line in SI with every element in order", "[read]") {
  const line::Line l = read::read_line_text(jewel_setter, "setter.toml");
  CHECK(l.title == "Jewel setter, rotary joint");
  CHECK(l.file == "setter.toml");
  CHECK(l.site.temperature == 294.15);
  CHECK(l.site.pressure == gas::pressure_at_altitude(340.0));
  REQUIRE(l.elements.size() == 7);

  const line::Element& pump = l.elements[0];
  CHECK(pump.kind == Kind::pump);
  REQUIRE(pump.pump);
  REQUIRE(pump.pump->flow.size() == 4);
  CHECK(pump.pump->flow[1].vacuum.value == 30e3);
  CHECK_THAT(pump.pump->flow[1].value.value, WithinRel(4.6 * l_min, 1e-15));
  REQUIRE(pump.pump->current.size() == 2);
  CHECK(pump.pump->current[1].value.value == 0.39);
  CHECK(pump.pump->speed.value == 1.0);
  CHECK(pump.volume.value == 6e-6);
  CHECK(pump.where.line == 8);
  CHECK(pump.where.column == 8);
  CHECK(pump.where.file == "setter.toml");

  const auto& hose = std::get<line::Bore>(l.elements[1].restriction);
  CHECK(hose.bore.value == 4e-3);
  CHECK(hose.length.value == 0.8);
  REQUIRE(l.elements[1].leaks.size() == 1);
  CHECK(std::get<line::Hole>(l.elements[1].leaks[0]).diameter.value == 8e-5);
  CHECK(std::get<line::Hole>(l.elements[1].leaks[0]).discharge.value == 0.72);
  CHECK(l.elements[1].assumed ==
        std::vector<std::string>{"roughness not given: smooth", "leak.discharge not given: 0.72, a sharp edge"});

  REQUIRE(l.elements[2].gauge);
  CHECK(l.elements[2].gauge->accuracy.value == 500.0);
  CHECK(l.elements[2].gauge->resolution.value == 100.0);

  const line::Element& valve = l.elements[3];
  CHECK(std::get<line::Iso>(valve.restriction).conductance.value == 0.30e-8);
  REQUIRE(valve.valve);
  CHECK(valve.valve->opens.value == 8e-3);
  CHECK(valve.valve->closes.value == 10e-3);
  CHECK(valve.valve->state == line::ValveState::open);
  REQUIRE(valve.valve->vent);
  CHECK(valve.valve->vent->path.critical_ratio.value == 0.4);
  REQUIRE(valve.valve->vent->blow_off);
  CHECK(valve.valve->vent->blow_off->value == 30e3);

  const auto& filter = std::get<line::RatedDrop>(l.elements[4].restriction);
  CHECK_THAT(filter.flow.value, WithinRel(6.0 * l_min, 1e-15));
  CHECK(filter.drop.value == 2e3);

  REQUIRE(l.elements[5].leaks.size() == 2);
  const auto& clearance = std::get<line::Clearance>(l.elements[5].leaks[0]);
  CHECK(clearance.gap.spread == units::Spread::normal);
  CHECK(clearance.gap.value == 35e-6);
  CHECK(clearance.eccentricity.value == 0.5);
  CHECK(std::get<line::RatedLeak>(l.elements[5].leaks[1]).orifice);

  CHECK(std::get<line::Bore>(l.elements[6].restriction).bore.spread == units::Spread::uniform);
  REQUIRE(l.elements[6].rim);
  CHECK(l.elements[6].rim->value == 1.8e-3);

  REQUIRE(l.part);
  CHECK(l.part->name == "cap jewel");
  CHECK(l.part->mass.value == 12e-6);
  CHECK(l.part->gap.value == 4e-6);
  REQUIRE(l.part->porosity);
  CHECK_FALSE(l.part->porosity->orifice);
  CHECK(l.part->length->value == 3e-3);
  CHECK_FALSE(l.part->width);
}

TEST_CASE("the remaining kinds are understood", "[read]") {
  const line::Line l = read::read_line_text(R"toml(format = 1
element = [
  { name = "e", kind = "ejector", curve = [["0 kPa", "20 L/min"], ["85 kPa", "0 L/min"]], supply = "500 kPa", consumption = "40 L/min" },
  { name = "check", kind = "check-valve", conductance = "0.2 L/(s bar)", cracking = "1 kPa" },
  { name = "tank", kind = "reservoir", volume = "0.5 L", effort = 2 },
  { name = "quick", kind = "coupler", conductance = "0.8 dm3/(s bar)", after = "tank" },
  { name = "end", kind = "plug", after = "tank", leak = { rated = "1 mL/min", at = "50 kPa" } },
  { name = "back", kind = "spindle", bore = "2 mm", length = "50 mm", loss = "1.5 ± 0.5", after = "tank", joins = "quick" },
  { name = "soft", kind = "tube", bore = "4 mm", length = "1 m", wall = "1 mm", modulus = "5 MPa", roughness = "2 um" },
  { name = "motor", kind = "pump", curve = [["0 kPa", "8 L/min"], ["71 kPa", "0 L/min"]], speed = 0.8, back-leak = "0.001 dm3/(s bar)", ripple = { frequency = "50 Hz", peak-to-peak = "0.4 kPa" } },
]
)toml",
                                            "kinds.toml");
  REQUIRE(l.elements.size() == 8);
  CHECK(l.elements[0].pump->supply->value == 500e3);
  CHECK_THAT(l.elements[0].pump->consumption->value, WithinRel(40.0 * l_min, 1e-15));
  CHECK(l.elements[1].cracking->value == 1e3);
  CHECK(std::get<line::Iso>(l.elements[1].restriction).critical_ratio.value == 0.35);
  CHECK(l.elements[2].volume.value == 0.5e-3);
  CHECK(l.elements[2].effort == 2.0);
  CHECK(std::holds_alternative<line::Iso>(l.elements[3].restriction));
  CHECK(l.elements[3].after == "tank");
  CHECK(l.elements[3].after_at.line == 6);
  CHECK(std::holds_alternative<std::monostate>(l.elements[4].restriction));
  CHECK(l.elements[5].joins == "quick");
  CHECK(std::get<line::Bore>(l.elements[5].restriction).loss.spread == units::Spread::normal);
  CHECK(l.elements[6].modulus->value == 5e6);
  CHECK(l.elements[7].pump->speed.value == 0.8);
  CHECK_THAT(l.elements[7].pump->back_leak->value, WithinRel(1e-11, 1e-15));
  CHECK(l.elements[7].pump->ripple_peak_to_peak->value == 400.0);
}

TEST_CASE("what a file leaves out is noted", "[read]") {
  const line::Line l = read::read_line_text(R"toml(format = 1
[[element]]
name = "valve"
kind = "valve"
conductance = "0.3 dm3/(s bar)"
[part]
mass = "1 mg"
)toml",
                                            "valve.toml");
  CHECK(l.site.pressure == 101325.0);
  CHECK(l.site.temperature == 293.15);
  CHECK(l.assumed == std::vector<std::string>{"pressure not given: 101.325 kPa", "temperature not given: 20 C",
                                              "gap not given: none, the part seals on the rim"});
  CHECK(l.elements[0].assumed == std::vector<std::string>{"critical-ratio not given: 0.35", "opens not given: at once",
                                                          "closes not given: at once"});
}

TEST_CASE("blow-off may stand inside the vent", "[read]") {
  const line::Line l = read::read_line_text(R"toml(format = 1
[[element]]
name = "valve"
kind = "valve"
state = "vent"
conductance = "0.3 dm3/(s bar)"
vent = { conductance = "0.3 dm3/(s bar)", blow-off = { pressure = "20 kPa" } }
)toml",
                                            "valve.toml");
  CHECK(l.elements[0].valve->state == line::ValveState::vent);
  CHECK(l.elements[0].valve->vent->blow_off->value == 20e3);
}

TEST_CASE("limits themselves are allowed, however they are written", "[read][property]") {
  for (const char* bore : {"0.01 mm", "100 mm", "10 um", "0.1 m", "10 cm"}) {
    CAPTURE(bore);
    CHECK_NOTHROW(
        read::read_line_text(std::string("format = 1\n[[element]]\nname = \"t\"\nkind = \"tube\"\nlength = \"100 "
                                         "m\"\nbore = \"") +
                                 bore + "\"\n",
                             "t.toml"));
  }
}
