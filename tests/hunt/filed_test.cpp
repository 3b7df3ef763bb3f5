#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "hunt/hunt.hpp"
#include "hunt/judgement.hpp"
#include "read/line_file.hpp"
#include "report/hunt_text.hpp"
#include "solve/answer.hpp"

// What the line file allows of an element is no fault of it, whichever of its quantities has the range.

using namespace airtally;
using namespace airtally::hunt;
using Catch::Matchers::WithinRel;

namespace {

/// A pump, a gauge, a joint or hose, a second gauge, a nozzle.
line::Line line_with(const char* pump, const char* middle) {
  return read::read_line_text(std::string(R"(format = 1
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa", "8 L/min"], ["30 kPa", "4.6 L/min"], ["60 kPa", "1.1 L/min"], ["71 kPa", "0 L/min"]]
)") + pump + R"(
[[element]]
name = "tee"
kind = "tee"
gauge = { accuracy = "0.5 kPa", resolution = "0.1 kPa" }
[[element]]
name = "middle"
)" + middle + R"(
[[element]]
name = "far tee"
kind = "tee"
gauge = { accuracy = "0.5 kPa", resolution = "0.1 kPa" }
[[element]]
name = "nozzle"
kind = "nozzle"
bore = "1 mm"
length = "3 mm"
rim = "3 mm"
)",
                              "range.toml");
}

const char* const joint = R"(kind = "rotary"
bore = "2 mm"
length = "20 mm"
leak = { rated = "480..520 mL/min", at = "60 kPa" })";

Unknown unknown_of(const line::Line& line, What what, const char* name) {
  const Suspects all = suspects(line, {});
  for (const Unknown& unknown : all.unknowns)
    if (unknown.what == what && all.line.elements[unknown.element].name == name) return unknown;
  throw std::runtime_error("no such unknown");
}

Reading vacuum(const line::Line& line, const char* at, solve::TipState tip, double kilopascals) {
  Reading reading;
  reading.setting.tips = {tip};
  reading.at = *line::find(line, at);
  reading.value = 1e3 * kilopascals;
  return reading;
}

}  // namespace

TEST_CASE("as the file has it is the worse end of a stated range", "[hunt][property]") {
  const line::Line hose = line_with("",
                                    "kind = \"tube\"\nbore = \"1.5..3 mm\"\nlength = \"0.5 m\"\n"
                                    "leak = { rated = \"1..9 mL/min\", at = \"60 kPa\" }");
  const Unknown way = unknown_of(hose, What::bore, "middle"), leak = unknown_of(hose, What::leak, "middle");
  CHECK_THAT(way.filed(), WithinRel(1.5 / 2.25, 1e-12));
  CHECK(way.worse_than_filed(0.99 * way.filed()));
  CHECK_FALSE(way.worse_than_filed(1.01 * way.filed()));
  CHECK_THAT(leak.filed(), WithinRel(9.0 / 5.0, 1e-12));
  CHECK(leak.worse_than_filed(1.01 * leak.filed()));
  CHECK_FALSE(leak.worse_than_filed(0.99 * leak.filed()));
  CHECK_THAT(unknown_of(line_with("speed = \"0.5..1.5\"", joint), What::pump_flow, "pump").filed(),
             WithinRel(0.5, 1e-12));
  // Without a range it is what the file says.
  CHECK(unknown_of(line_with("", joint), What::pump_flow, "pump").filed() == 1.0);
  CHECK(unknown_of(line_with("", joint), What::blockage, "middle").filed() == 1.0);
  // Of several leaks the widest counts, its range too.
  const line::Line two = line_with("",
                                   "kind = \"tee\"\nleak = [{ rated = \"1..1000 mL/min\", at = \"60 kPa\" }, { rated = "
                                   "\"1..2 mL/min\", at = \"60 kPa\" }]");
  CHECK_THAT(unknown_of(two, What::leak, "middle").filed(), WithinRel(1000.0 / 500.5, 1e-12));
}

// 0.6 of the pump's flow, by the file between 0.5 and 1.5; and 0.25, which is not.
TEST_CASE("a pump that does what its range allows is not at fault", "[hunt][property]") {
  const line::Line line = line_with("speed = \"0.5..1.5\"", joint);
  const std::size_t pump = *line::find(line, "pump");
  const auto pump_in = [&](const Hunt& found) {
    return *std::find_if(found.elements.begin(), found.elements.end(),
                         [&](const Finding& finding) { return finding.element == pump; });
  };
  Readings readings;
  readings.list = {vacuum(line, "tee", solve::TipState::blocked, 62.4),
                   vacuum(line, "tee", solve::TipState::open, 8.3)};
  const Hunt within = hunt::hunt(line, readings);
  CHECK(pump_in(within).cost.median > 5e3);
  CHECK(pump_in(within).amiss < 0.05);
  CHECK_FALSE(off_file(within, pump_in(within)));
  CHECK(amiss(within).empty());
  readings.list = {vacuum(line, "tee", solve::TipState::blocked, 48.0),
                   vacuum(line, "tee", solve::TipState::open, 3.5)};
  CHECK(pump_in(hunt::hunt(line, readings)).amiss > 0.95);
}

// The joint leaks 500 mL/min by the file; read is a line whose joint leaks a fiftieth of it.
TEST_CASE("a line that holds more vacuum than its file has it is told so", "[hunt][report][property]") {
  const line::Line line = line_with("", R"(kind = "rotary"
bore = "2 mm"
length = "20 mm"
leak = { rated = "500 mL/min", at = "60 kPa" })");
  line::Line better = line;
  better.elements[2].leaks = {
      line::RatedLeak{0.02 * std::get<line::RatedLeak>(line.elements[2].leaks[0]).flow.value, 60e3}};
  const auto read = [](const line::Line& of, const char* at) {
    const std::vector<solve::TipState> tips{solve::TipState::blocked};
    return 1e-3 * solve::steady(of, tips).elements[*line::find(of, at)].vacuum;
  };
  Readings readings;
  for (const char* at : {"tee", "far tee"})
    readings.list.push_back(vacuum(line, at, solve::TipState::blocked, read(better, at)));
  const Hunt found = hunt::hunt(line, readings);
  CHECK_FALSE(missed(found));
  REQUIRE(spared(found));
  CHECK_THAT(found.readings[*spared(found)].spare, WithinRel(1e3 * (read(better, "tee") - read(line, "tee")), 0.05));
  const auto joint_in =
      std::find_if(found.elements.begin(), found.elements.end(), [](const Finding& f) { return f.element == 2; });
  CHECK(better_than_filed(line, *joint_in));
  const std::string verdict = report::hunt_verdict(line, found, {});
  CHECK_THAT(verdict, Catch::Contains("which is better: the middle leaks ") &&
                          Catch::Contains("not 500.0 mL/min. Put the file right before you plan by it."));
  // Read as the file has it nothing is better; nor is a leak that the file has as a range.
  for (Reading& reading : readings.list) reading.value = 1e3 * read(line, line.elements[reading.at].name.c_str());
  const Hunt as_filed = hunt::hunt(line, readings);
  CHECK_FALSE(spared(as_filed));
  CHECK_THAT(report::hunt_verdict(line, as_filed, {}), !Catch::Contains("Put the file right"));
  line::Line ranged = line;
  std::get<line::RatedLeak>(ranged.elements[2].leaks[0]).flow =
      units::Quantity::uniform(1e-9, std::get<line::RatedLeak>(line.elements[2].leaks[0]).flow.value);
  CHECK_FALSE(better_than_filed(ranged, *joint_in));
}
