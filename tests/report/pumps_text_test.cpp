#include "report/pumps_text.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "gas/air.hpp"
#include "line/variant.hpp"
#include "lines/lines.hpp"
#include "study/demand.hpp"

using namespace airtally;
using Catch::Contains;
using Catch::Matchers::WithinRel;
using Json = nlohmann::ordered_json;

namespace {

std::string flat(std::string text) {
  for (char& c : text) c = c == '\n' ? ' ' : c;
  return text;
}

std::string text_of(const line::Line& line, const study::Pumps& pumps) {
  const std::vector<std::vector<solve::TipState>> states{solve::all_tips(line, solve::TipState::part)};
  return report::pumps_text(line, pumps, study::pump_against_line(line, states), {});
}

}  // namespace

TEST_CASE("a need at a height is told there and on the data sheet", "[report][property]") {
  line::Line line = test::scenario("jewel-setter");
  line.site.pressure = gas::standard_pressure;
  CHECK_THAT(report::pumps_verdict(line, study::pumps(line, {}), {}), !Contains("data sheet"));
  line.site.pressure = 83.5e3;
  const study::Pumps pumps = study::pumps(line, {});
  CHECK_THAT(pumps.hold_here.vacuum, WithinRel(pumps.hold.vacuum * 83.5e3 / 101325.0, 1e-12));
  CHECK(pumps.hold_here.vacuum < line.site.pressure);
  const std::string verdict = report::pumps_verdict(line, pumps, {});
  CHECK_THAT(verdict, Contains(" or more here, which is ") && Contains(" on its data sheet, read at 101.3 kPa"));
  CHECK_THAT(flat(text_of(line, pumps)),
             Contains("The curve that would just do, as on its data sheet, read at 101.3 kPa:"));
  const Json hold = Json::parse(report::pumps_json(line, pumps))["to_hold"];
  CHECK(hold["vacuum_here_pa"].get<double>() < hold["vacuum_pa"].get<double>());
}

// The point is where a pump that would just do works: what its curve gives there as the line's own air.
TEST_CASE("a pump that just does works at the point told for the site", "[study][closed-form]") {
  line::Line line = test::scenario("jewel-setter");
  line.site.pressure = 83.5e3;
  line.site.temperature = 308.15;
  const study::Pumps asked = study::pumps(line, {});
  line::Line just = line::at_widest_gap(line);
  const double v = asked.hold.vacuum, m = asked.hold.flow;
  just.elements.front().pump->flow = {{units::Quantity(0.0), units::Quantity(2.0 * m)},
                                      {units::Quantity(v), units::Quantity(m)},
                                      {units::Quantity(v * 1.2), units::Quantity(0.0)}};
  const auto answer = solve::steady(just, solve::all_tips(just, solve::TipState::part));
  CHECK_THAT(answer.sources.front().vacuum, WithinRel(asked.hold_here.vacuum, 1e-3));
  CHECK_THAT(answer.sources.front().flow, WithinRel(asked.hold_here.flow, 1e-3));
}

TEST_CASE("a line that an ejector feeds has no pump of its own", "[report][property]") {
  const line::Line line = test::scenario("ejector-head");
  const std::string text = text_of(line, study::pumps(line, {}));
  CHECK_THAT(flat(text), Contains("The line's own ejector") && !Contains("own pump"));
  CHECK_THAT(text, Contains("o the ejector") && !Contains("o the pump"));
}

TEST_CASE("a need near the room's pressure is the nozzle's fault", "[report][property]") {
  line::Line line = test::scenario("jewel-setter");
  CHECK_THAT(report::pumps_verdict(line, study::pumps(line, {}), {}), !Contains("is small for this part"));
  const double need = study::pumps(line, {}).needs.front();
  line.part->mass = line.part->mass.value * 0.88 * line.site.pressure / need;
  line.part->gap = 0.0;
  const study::Pumps pumps = study::pumps(line, {});
  REQUIRE_THAT(pumps.needs.front(), WithinRel(0.88 * line.site.pressure, 1e-6));
  CHECK_THAT(report::pumps_verdict(line, pumps, {}),
             Contains("The nozzle is small for this part: it needs 85.6 kPa of the 97.3 kPa that the room has. A wider "
                      "one, a lighter part or gentler moves need less."));
}

TEST_CASE("the curve that would just do says no row twice", "[report][property]") {
  line::Line line = test::scenario("jewel-setter");
  line.cycle.reset();
  const study::Pumps pumps = study::pumps(line, {});
  REQUIRE(pumps.required.size() == 9);
  REQUIRE_FALSE(pumps.speed_for_time);
  const std::string text = text_of(line, pumps);
  const std::string rows =
      text.substr(text.find("The curve that would"), text.find("to spare: ") - text.find("The curve"));
  CHECK(std::count(rows.begin(), rows.end(), '\n') == 7);  // its name, a head of three rows, two rows, a blank
  CHECK_THAT(flat(text), Contains("switched on and off to keep just that vacuum, the pump runs for this share"));
}
