#include <algorithm>
#include <catch2/catch.hpp>

#include "read/line_file.hpp"
#include "read/refusal.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;

namespace {

const std::string tee = "\n[[element]]\nname = \"t\"\nkind = \"tee\"\n";

line::Line line_with(const std::string& keys) {
  return read::read_line_text("format = 1\n[cycle]\n" + keys + tee, "l.toml");
}

// `keys` stand from line 3 on.
std::string cycle_refused(const std::string& keys) { return test::refusal("format = 1\n[cycle]\n" + keys + tee); }

bool assumes(const line::Line& line, const std::string& phrase) {
  return std::find(line.assumed.begin(), line.assumed.end(), phrase) != line.assumed.end();
}

}  // namespace

TEST_CASE("[cycle] is read in SI", "[read][closed-form]") {
  const line::Cycle cycle =
      line_with(
          "valve-on = \"30 ms\"\napproach-height = \"0.4 mm\"\napproach-speed = \"25 mm/s\"\ntouch = \"0.05 s\"\n"
          "lift = \"90 ms\"\ntravel = \"110 ms\"\nplace = \"260 ms\"\nrelease = \"255 ms\"\nvent-time = \"40 ms\"\n"
          "retract = \"340 ms\"\nperiod = \"0.5 s\"\npump = \"switched\"\npump-off = \"300 ms\"\n"
          "[[cycle.head]]\nnozzle = \"nozzle 2\"\ndelay = \"250 ms\"")
          .cycle.value();
  CHECK_THAT(cycle.valve_on.value, WithinRel(0.03, 1e-12));
  CHECK_THAT(cycle.approach_height.value, WithinRel(0.4e-3, 1e-12));
  CHECK_THAT(cycle.approach_speed.value, WithinRel(0.025, 1e-12));
  CHECK_THAT(cycle.touch.value, WithinRel(0.05, 1e-12));
  CHECK_THAT(cycle.lift.value().value, WithinRel(0.09, 1e-12));
  CHECK_THAT(cycle.travel.value().value, WithinRel(0.11, 1e-12));
  CHECK_THAT(cycle.place.value, WithinRel(0.26, 1e-12));
  CHECK_THAT(cycle.release.value().value, WithinRel(0.255, 1e-12));
  CHECK_THAT(cycle.vent_time.value().value, WithinRel(0.04, 1e-12));
  CHECK_THAT(cycle.retract.value().value, WithinRel(0.34, 1e-12));
  CHECK_THAT(cycle.period.value().value, WithinRel(0.5, 1e-12));
  CHECK_FALSE(cycle.pump_always_on);
  CHECK_THAT(cycle.pump_off.value().value, WithinRel(0.3, 1e-12));
  REQUIRE(cycle.heads.size() == 1);
  CHECK(cycle.heads[0].nozzle == "nozzle 2");
  CHECK_THAT(cycle.heads[0].delay.value, WithinRel(0.25, 1e-12));
  CHECK(cycle.heads[0].where.line == 17);
  CHECK(cycle.where.line == 2);
}

TEST_CASE("what [cycle] leaves out is said", "[read][property]") {
  const line::Line line = line_with("touch = \"50 ms\"\nplace = \"260 ms\"");
  const line::Cycle& cycle = line.cycle.value();
  CHECK_FALSE(cycle.lift);
  CHECK_FALSE(cycle.release);
  CHECK(cycle.pump_always_on);
  CHECK(cycle.valve_on.value == 0.0);
  for (const char* phrase : {"valve-on not given: at 0 s, the start of the cycle", "approach-height not given: 0.5 mm",
                             "approach-speed not given: 20 mm/s", "[cycle] lift not given: as soon as it is safe",
                             "[cycle] travel not given: sideways moves begin with the lift",
                             "release not given: with place", "pump not given: always-on"}) {
    CAPTURE(phrase);
    CHECK(assumes(line, phrase));
  }
  CHECK_FALSE(read::read_line_text("format = 1" + tee, "l.toml").cycle.has_value());
  CHECK(assumes(line_with("touch = \"50 ms\"\nplace = \"260 ms\"\npump = \"switched\"\npump-off = \"300 ms\""),
                "release not given: with place; what hangs on no valve is let go by pump-off"));
}

TEST_CASE("a slip in [cycle] is told with its place", "[read][property]") {
  const std::string needed = "touch = \"50 ms\"\nplace = \"260 ms\"\n";
  CHECK(cycle_refused("place = \"1 s\"").find("l.toml:2:1: cycle: needs 'touch', such as touch = ") == 0);
  CHECK(cycle_refused("touch = \"1 s\"").find("l.toml:2:1: cycle: needs 'place', such as place = ") == 0);
  CHECK(cycle_refused(needed + "lift = 90").find("l.toml:5:8: cycle: lift = 90 is a bare number; say its unit") == 0);
  CHECK(cycle_refused(needed + "lift = \"90 mm\"").find("l.toml:5:8: cycle: lift = ") == 0);
  CHECK(cycle_refused(needed + "approach-speed = \"9 m/s\"")
            .find("l.toml:5:18: cycle: approach-speed = 9 m/s is outside 0.1 mm/s .. 5000 mm/s.") == 0);
  CHECK(cycle_refused(needed + "pump = \"off\"")
            .find("l.toml:5:8: cycle: pump = \"off\" is none of always-on, switched.") == 0);
  CHECK(cycle_refused(needed + "pump-off = \"300 ms\"") ==
        "l.toml:5:12: cycle: a pump that is always on is never switched off; say pump = \"switched\" as well.");
  CHECK(cycle_refused(needed + "tuch = \"3 ms\"")
            .find("l.toml:5:1: cycle: 'tuch' is not a key of [cycle]. Did you mean "
                  "'touch'?") == 0);
  CHECK(cycle_refused(needed + "[[cycle.head]]\ndelay = \"1 ms\"")
            .find("[[cycle.head]] needs 'nozzle', the name of the head's nozzle.") != std::string::npos);
  CHECK(cycle_refused(needed +
                      "[[cycle.head]]\nnozzle = \"n\"\ndelay = \"1 ms\"\n[[cycle.head]]\nnozzle = \"n\"\ndelay = "
                      "\"2 ms\"") == "l.toml:9:10: cycle: this nozzle has a [[cycle.head]] already.");
}

TEST_CASE("a valve's ramp, a gauge's own tube and an ejector's keys are read", "[read][closed-form]") {
  const line::Line line = read::read_line_text(
      "format = 1\n[[element]]\nname = \"e\"\nkind = \"ejector\"\ncurve = [[\"0 kPa\", \"12 L/min\"], [\"80 kPa\", "
      "\"0 L/min\"]]\nsupply = \"450 kPa\"\nconsumption = \"24 L/min\"\nback-leak = \"0.2 dm3/(s bar)\"\n"
      "[[element]]\nname = \"v\"\nkind = \"valve\"\nconductance = \"0.3 dm3/(s bar)\"\nopens = \"8 ms\"\nramp = \"3 "
      "ms\"\n[[element]]\nname = \"t\"\nkind = \"tee\"\ngauge = { range = \"100 kPa\", tube = { bore = \"0.5 mm\", "
      "length = \"80 mm\" }, volume = \"0.2 mL\" }\n",
      "l.toml");
  const line::Pump& ejector = line.elements[0].pump.value();
  CHECK_THAT(ejector.supply.value().value, WithinRel(450e3, 1e-12));
  CHECK_THAT(ejector.consumption.value().value, WithinRel(24.0 * 1.185 / 60e3, 1e-3));
  CHECK_THAT(ejector.back_leak.value().value, WithinRel(0.2e-8, 1e-12));
  CHECK_THAT(line.elements[1].valve.value().ramp.value, WithinRel(3e-3, 1e-12));
  const line::Gauge& gauge = line.elements[2].gauge.value();
  CHECK_THAT(gauge.range.value().value, WithinRel(100e3, 1e-12));
  CHECK_THAT(gauge.tube.value().bore.value, WithinRel(0.5e-3, 1e-12));
  CHECK_THAT(gauge.tube.value().length.value, WithinRel(0.08, 1e-12));
  CHECK_THAT(gauge.volume.value, WithinRel(0.2e-6, 1e-12));
  CHECK(test::element_with("tee", "gauge = { volume = \"1 mL\" }")
            .find("the gauge's volume lies behind a tube of its own; give tube = ") != std::string::npos);
}
