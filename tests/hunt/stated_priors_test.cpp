#include "hunt/beliefs/stated_priors.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "hunt/beliefs/unknowns.hpp"
#include "read/line_file.hpp"

using namespace airtally;
using namespace airtally::hunt;
using Catch::Matchers::WithinRel;
using units::Quantity;

TEST_CASE("a tolerance of what air runs through is its prior", "[hunt][closed-form]") {
  line::Element e;
  e.kind = line::Kind::coupler;
  e.restriction = line::Bore{Quantity::normal(4e-3, 0.2e-3), 0.02};
  // 4 +- 0.2 mm is a standard deviation of 2.5 %; laminar flow goes with the fourth power: 10 %.
  CHECK_THAT(stated_opening(e)->spread, WithinRel(0.1, 1e-9));
  // That of a long bore is its own unknown's, tests/hunt/way_test.cpp.
  std::get<line::Bore>(e.restriction).length = 1.0;
  CHECK_FALSE(stated_opening(e));
  e.kind = line::Kind::nozzle;
  CHECK_THAT(stated_opening(e)->spread, WithinRel(0.05, 1e-9));
  e.restriction = line::Iso{Quantity::uniform(2e-9, 4e-9)};
  // Among the whole anywhere in the range; the clogged are below it, one in a thousand by a factor of seven.
  CHECK_THAT(stated_opening(e)->damaged(0.0).at(-6.0), WithinRel(2.0 / 3.0, 1e-6));
  CHECK_THAT(stated_opening(e)->at(6.0), WithinRel(4.0 / 3.0, 1e-6));
  CHECK_THAT(stated_opening(e)->at(-3.0902), WithinRel(2.0 / 3.0 * std::exp(-1.5 * 1.3402), 0.01));
  // Twice the rated drop lets half through; more drop is less open, and the way back finds it.
  e.restriction = line::RatedDrop{1e-4, Quantity::uniform(1e3, 4e3)};
  CHECK_THAT(stated_opening(e)->damaged(0.0).at(6.0), WithinRel(2.5 / 4.0, 1e-6));
  CHECK_THAT(stated_opening(e)->z_of(stated_opening(e)->at(0.7)), WithinRel(0.7, 1e-6));
  e.restriction = line::RatedDrop{1e-4, 2e3};
  CHECK_FALSE(stated_opening(e));
}

TEST_CASE("a tolerance of a pump's curve is its prior", "[hunt][closed-form]") {
  line::Pump pump;
  pump.flow = {{0.0, Quantity::normal(1e-4, 2e-5)}, {Quantity::normal(70e3, 4e3), 0.0}};
  CHECK_THAT(stated_pump_flow(pump)->spread, WithinRel(0.1, 1e-9));
  CHECK_THAT(stated_pump_vacuum(pump)->spread, WithinRel(2.0 / 70.0, 1e-9));
  pump.flow.back().vacuum = Quantity::normal(98e3, 6e3);
  CHECK(stated_pump_vacuum(pump)->at(6.0) * 98e3 < 101325.0);
  pump.flow = {{0.0, 1e-4}, {70e3, 0.0}};
  CHECK_FALSE(stated_pump_flow(pump));
  CHECK_FALSE(stated_pump_vacuum(pump));
}

TEST_CASE("a hunt takes tolerances from the line file", "[hunt][read][property]") {
  const line::Line line = read::read_line_text(R"toml(format = 1
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa", "8 L/min"], ["71 kPa", "0 L/min"]]
[[element]]
name = "valve"
kind = "valve"
conductance = "0.2..0.4 dm3/(s bar)"
[[element]]
name = "nozzle"
kind = "nozzle"
bore = "1 mm"
length = "6 mm"
rim = "2 mm"
)toml",
                                               "line.toml");
  int seen = 0;
  for (const Unknown& u : suspects(line, {}).unknowns) {
    if (u.what != What::blockage) continue;
    ++seen;
    CHECK((u.prior.shape == Prior::Shape::range) == (line.elements[u.element].name == "valve"));
  }
  CHECK(seen == 2);
}
