#include "report/look.hpp"

#include <catch2/catch.hpp>
#include <limits>

#include "errors.hpp"
#include "report/outline.hpp"
#include "report/words.hpp"
#include "sample.hpp"

using namespace airtally;
using namespace airtally::report;

namespace {

Look in(std::string_view unit) {
  Look look;
  look.vacuum = units::find_unit(unit, units::Dimension::pressure);
  return look;
}

}  // namespace

TEST_CASE("a vacuum shows a tenth of a kilopascal in any unit", "[report][closed-form]") {
  // 18432 Pa by the exact factors of the units; each within 102 Pa of the printed digit.
  CHECK(vacuum(in("kPa"), 18432.0) == "18.4 kPa");
  CHECK(vacuum(in("mbar"), 18432.0) == "184 mbar");
  CHECK(vacuum(in("Pa"), 18432.0) == "18432 Pa");
  CHECK(vacuum(in("inHg"), 18432.0) == "5.44 inHg");
  CHECK(vacuum(in("psi"), 18432.0) == "2.67 psi");
  CHECK(vacuum(in("atm"), 18432.0) == "0.182 atm");
  CHECK(vacuum(in("kPa"), 432.0) == "0.43 kPa");
}

TEST_CASE("what rounds to zero says so", "[report][property]") {
  const Scale scale = vacuum_scale(in("kPa"), 50e3);
  CHECK(scale.number(30.0) == "<0.1");
  CHECK(scale.number(0.0) == "0.0");
  CHECK(scale.number(1e-6) == "0.0");
  CHECK(scale.number(-30.0) == "0.0");
  CHECK(scale.gain(1500.0) == "+1.5");
  CHECK(scale.gain(-1500.0) == "-1.5");
  CHECK(scale.gain(30.0) == "0.0");
  // What nothing on a bench reads has no more digits than it is good to.
  CHECK(scale.text(17734375e3) == "17730000 kPa");
  CHECK(scale.gain(-17734308.5e3) == "-17730000");
  CHECK(scale.gain(17734308.5e3) == "+17730000");
  CHECK(vacuum(in("Pa"), 101325.0) == "101325 Pa");
  CHECK_THROWS_AS(scale.number(std::numeric_limits<double>::infinity()), DomainError);
}

TEST_CASE("flows, leaks and times choose their unit by the largest", "[report][closed-form]") {
  constexpr double litre = 1.185 / 60e3;  // kg/s of one L/min of free air
  CHECK(flow_scale(3.1 * litre).text(3.1 * litre) == "3.10 L/min");
  CHECK(flow_scale(0.05 * litre).text(0.05 * litre) == "50.00 mL/min");
  CHECK(leak_scale(2.1523 * litre).text(0.0003 * litre) == "0.3 mL/min");
  CHECK(leak_scale(9.9 * litre).text(9.9 * litre) == "9900.0 mL/min");
  CHECK(leak_scale(157.6 * litre).text(157.6 * litre) == "157.60 L/min");
  CHECK(leak_scale(12.0 * litre).text(0.005 * litre) == "0.005 L/min");
  CHECK(flow(2.62e-8 * litre) == "<0.001 mL/min");
  CHECK(flow(0.0) == "0 L/min");
  CHECK(current_scale(0.345).text(0.3452) == "345.2 mA");
  CHECK(current_scale(2.17).text(2.0007) == "2001 mA");
  CHECK(time_scale(0.2).text(0.0421) == "42 ms");
  CHECK(time_scale(3.0).text(2.5) == "2.50 s");
}

TEST_CASE("names take an article unless they are numbered", "[report][property]") {
  CHECK(The(sample::element("rotary joint", line::Kind::rotary)) == "The rotary joint");
  CHECK(The(sample::element("nozzle 2", line::Kind::nozzle)) == "Nozzle 2");
  CHECK(the(sample::element("pump A", line::Kind::pump)) == "pump A");
}

TEST_CASE("a file name is typed so that a shell understands it", "[report][property]") {
  line::Line line;
  line.file = "lines/jewel-setter.toml";
  CHECK(typed_file(line) == "lines/jewel-setter.toml");
  line.file = "my line's.toml";
  CHECK(typed_file(line) == "'my line'\\''s.toml'");
  // Behind a command a dash would begin an option.
  line.file = "-dash.toml";
  CHECK(typed_file(line) == "./-dash.toml");
  line.file = "-my line.toml";
  CHECK(typed_file(line) == "'./-my line.toml'");
}

TEST_CASE("a line is typed with what was set otherwise than in its file", "[report][property]") {
  line::Line line;
  line.file = "lines/jewel-setter.toml";
  CHECK(typed_line(line, {}) == "lines/jewel-setter.toml");
  CHECK(typed_line(line, {"part.mass=2 g", "valve.state=closed"}) ==
        "lines/jewel-setter.toml --set 'part.mass=2 g' --set valve.state=closed");
}

TEST_CASE("branches stand below one another", "[report][property]") {
  using line::Kind;
  line::Line line;
  for (const auto& [name, kind] : {std::pair("pump", Kind::pump), std::pair("tee", Kind::tee)})
    line.elements.push_back(sample::element(name, kind));
  for (const char* name : {"valve 1", "nozzle 1", "valve 2", "nozzle 2"})
    line.elements.push_back(sample::element(name, name[0] == 'v' ? Kind::valve : Kind::nozzle));
  line.elements[2].after = line.elements[4].after = "tee";
  line.elements[3].leaks = {line::Hole{1e-4}};
  for (line::Element& e : line.elements) {
    if (e.kind == Kind::valve) e.restriction = line::Iso{3e-9};
    if (e.kind == Kind::nozzle) e.restriction = line::Bore{1e-3, 6e-3};
    if (e.kind == Kind::pump) e.pump.emplace();
  }
  const line::Topology topology = line::topology(line);
  CHECK(drawing(line, topology, {}) == "pump ─ tee\n├─ valve 1 ─ nozzle 1*\n└─ valve 2 ─ nozzle 2\n");
  CHECK(drawing(line, topology, {.ascii = true}, 16) ==
        "pump - tee\n|- valve 1\n|    - nozzle 1*\n`- valve 2\n     - nozzle 2\n");
  std::string rows;
  for (const OutlineRow& row : outline(topology, {})) rows += row.branch + line.elements[row.element].name + '\n';
  CHECK(rows == "pump\ntee\n├ valve 1\n│ nozzle 1\n└ valve 2\n  nozzle 2\n");
}
