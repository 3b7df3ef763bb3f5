#include "hunt/verdict/mistaken.hpp"

#include <catch2/catch.hpp>

#include "hunt/bench.hpp"

using namespace airtally;
using namespace airtally::hunt;
using Catch::Contains;

namespace {

std::vector<std::string> said_of(const line::Line& line, const std::vector<Reading>& readings) {
  const Suspects all = suspects(line, {});
  Evidence evidence(all, readings, {});
  return mistaken(all, readings, {}, find_modes(all, evidence));
}

/// What a sound line shows.
double sound(const line::Line& line, const Reading& reading) {
  const Suspects all = suspects(line, {});
  const std::vector<double> values = all.values(std::vector<double>(all.unknowns.size(), 0.0));
  Rig rig(all, line::topology(all.line), reading.setting);
  rig.solve(values);
  return rig.read(reading.instrument, reading.at, values);
}

}  // namespace

TEST_CASE("absolute pressure that could be a vacuum is noticed all the same", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  std::vector<Reading> readings;
  for (const char* cap : {"tee", "filter", "joint"}) readings.push_back(tests::capped(line, cap));
  for (Reading& reading : readings) reading.value = sound(line, reading);
  CHECK(said_of(line, readings).empty());

  for (Reading& reading : readings) reading.value = line.site.pressure - reading.value;
  const std::vector<std::string> said = said_of(line, readings);
  REQUIRE(said.size() == 1);
  CHECK_THAT(said.front(),
             Contains("in absolute pressure: ") &&
                 Contains(" of vacuum with 101.3 kPa in the room; an absolute gauge on a sound line would show "));

  // A line that is as bad as that, with the vacuum falling as it must, is no mistake; nor are readings that make sense
  // neither way.
  readings[0].value = 33e3;
  readings[1].value = 12e3;
  readings[2].value = 9e3;
  CHECK(said_of(line, readings).empty());
  readings[1].value = 60e3;
  CHECK(said_of(line, readings).empty());
}

TEST_CASE("a gauge that shows nothing is looked at first", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const std::vector<std::string> said = said_of(line, {tests::capped(line, "tee", 0.2e3)});
  REQUIRE(said.size() == 1);
  CHECK_THAT(said.front(), Contains("no vacuum at all: see that the pump runs"));
  CHECK(said_of(line, {tests::capped(line, "tee", 60e3)}).empty());
}

// A hundredth of the pump's flow: with the tip open some tens of pascals, however sound the line is.
TEST_CASE("no vacuum where a sound line has none is no mistake", "[hunt][property]") {
  line::Line line = tests::bench_line();
  line.elements.front().pump->speed = 0.01;
  Reading reading = tests::capped(line, "tee", 0.2e3);
  CHECK(said_of(line, {reading}).size() == 1);
  reading.setting.cap.reset();
  reading.setting.tips = {solve::TipState::open};
  CHECK(sound(line, reading) < 0.1e3);
  CHECK(said_of(line, {reading}).empty());
}
