// What the pick of the file's [cycle] makes of a sensor that tells at rest.
#include <catch2/catch.hpp>

#include "lines/lines.hpp"
#include "read/line_file.hpp"
#include "report/sense_text.hpp"
#include "report/verdicts.hpp"

using namespace airtally;
using namespace airtally::study;

namespace {

/// A small pump on a large reservoir: a pick takes so little of it that an open nozzle never gets to its rest.
line::Line large_reservoir(const std::string& conductance) {
  return read::read_line_text(R"line(format = 1
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa","3 L/min"],["40 kPa","1.2 L/min"],["70 kPa","0 L/min"]]
[[element]]
name = "reservoir"
kind = "reservoir"
volume = "20 L"
[[element]]
name = "valve"
kind = "valve"
conductance = ")line" + conductance +
                                  R"line( dm3/(s bar)"
opens = "4 ms"
closes = "4 ms"
vent = { conductance = "0.4 dm3/(s bar)" }
[[element]]
name = "hose"
kind = "tube"
bore = "4 mm"
length = "1 m"
[[element]]
name = "nozzle"
kind = "nozzle"
bore = "1.5 mm"
length = "6 mm"
rim = "3 mm"
[part]
mass = "250 mg"
gap = "10 um"
[cycle]
valve-on = "10 ms"
touch = "40 ms"
approach-speed = "100 mm/s"
place = "160 ms"
release = "155 ms"
vent-time = "20 ms"
retract = "185 ms"
period = "6 s"
[sensor]
at = "hose"
range = "100 kPa"
span = "100 mV"
excitation = "5 V"
noise = "30 Pa"
zero = "0 +- 3 mV"
amplifier = { kind = "instrumentation", gain = 25 }
adc = { bits = 12, reference = "3.3 V" }
)line",
                              "large.toml");
}

}  // namespace

TEST_CASE("a large reservoir leaves an open nozzle vacuum that a higher threshold tells", "[sense][property]") {
  const line::Line line = large_reservoir("1");
  const Sense sense = study::sense(line);
  REQUIRE(sense.tells);
  REQUIRE(sense.pick);
  CHECK_FALSE(sense.pick->missed);
  CHECK_FALSE(sense.works());
  CHECK(sense.pick->missed_last > sense.threshold);
  CHECK_FALSE(sense.pick->stale);  // the sensor is behind the valve, so nothing stood there
  REQUIRE(sense.pick->other_threshold);
  CHECK(*sense.pick->other_threshold > sense.pick->missed_last);
  CHECK(*sense.pick->other_threshold < sense.pick->held_last);
  CHECK(sense.pick->other_after.value() <= sense.pick->place);
  const std::string said = report::sense_verdict(line, sense, {});
  CHECK_THAT(said,
             Catch::StartsWith("The sensor at the hose does not tell a held part from a missed one in the pick of "
                               "the file's [cycle], though it would at rest: "));
  CHECK_THAT(said, Catch::Contains("so short a pick does not draw the line down"));
  CHECK_THAT(said, Catch::Contains(" would tell there, from "));
  CHECK_THAT(said, !Catch::Contains("open the valve sooner"));
  CHECK_THAT(said, !Catch::Contains("put the sensor behind it"));
  CHECK_THAT(said, !Catch::Contains("Safe to decide from"));
}

TEST_CASE("a large reservoir leaves an open nozzle vacuum that keeps a switch on", "[sense][property]") {
  line::Line line = large_reservoir("1");
  const Sense amplified = study::sense(line);
  line.sensor->ready_made = line::VacuumSwitch{amplified.threshold, 0.5e3, 1e-3};
  const Sense sense = study::sense(line);
  REQUIRE(sense.tells);
  REQUIRE(sense.pick);
  CHECK_FALSE(sense.pick->missed);
  REQUIRE(sense.pick->other_threshold);
  const std::string said = report::sense_verdict(line, sense, {});
  CHECK_THAT(said, Catch::StartsWith("The switch at the hose does not tell a held part from a missed one in the pick"));
  CHECK_THAT(said, Catch::Contains(", with the same hysteresis, would tell there, from "));
  // Set so, it does.
  line.sensor->ready_made->on = *sense.pick->other_threshold;
  CHECK(study::sense(line).works());
}

TEST_CASE("the advice for a switch says at once where the pick would not do either", "[sense][property]") {
  line::Line line = large_reservoir("1");
  line.sensor->ready_made = line::VacuumSwitch{69e3, 0.5e3, 1e-3};
  const Sense sense = study::sense(line);
  REQUIRE_FALSE(sense.tells);
  CHECK_FALSE(sense.pick);
  REQUIRE(sense.points->best_pick);
  CHECK_FALSE(sense.points->best_works());
  const std::string advice = report::sense_advice(line, sense, {});
  CHECK_THAT(advice,
             Catch::Contains(", and with the line at rest it tells. Yet in the pick of the file's [cycle] it does "
                             "not tell even then. In the pick it still feels "));
  // It is what would be said once it is set so.
  line.sensor->ready_made->on = *sense.points->best_on;
  const Sense set = study::sense(line);
  REQUIRE(set.tells);
  CHECK_FALSE(set.points->best_pick);
  CHECK(set.pick->missed_last == sense.points->best_pick->missed_last);
  CHECK_THAT(report::sense_verdict(line, set, {}),
             Catch::Contains(advice.substr(advice.find("In the pick it still feels "), 60)));
  // A longer pick, with the valve open long before the touch, would do.
  line::Line patient = line;
  patient.sensor->ready_made->on = 69e3;
  patient.cycle.reset();
  CHECK_FALSE(study::sense(patient).points->best_pick);
  CHECK(study::sense(patient).points->best_works());
}

TEST_CASE("a head that never has the vacuum to lift has no moment of lifting", "[sense][property]") {
  line::Line line = large_reservoir("1");
  CHECK(study::sense(line).pick->lift);
  line.part->mass = 250e-3;
  CHECK_FALSE(study::sense(line).pick->lift);
  line.cycle->lift = 100e-3;  // scheduled it lifts all the same
  CHECK(study::sense(line).pick->lift);
}

TEST_CASE("a decision that comes as the part is put down comes too late", "[sense][property]") {
  // Between a valve that leaves misses below the threshold in time and one that never does.
  bool in_time = false, never = false;
  for (const char* conductance : {"0.40", "0.48", "0.52", "0.54", "0.55", "0.56", "0.58", "0.62", "0.70", "0.80"}) {
    const Sense sense = study::sense(large_reservoir(conductance));
    CAPTURE(conductance);
    REQUIRE(sense.pick);
    for (const auto& time : {sense.pick->held, sense.pick->missed, sense.pick->other_after})
      if (time) CHECK(*time <= sense.pick->place);
    CHECK(sense.works() == sense.pick->told().has_value());
    (sense.works() ? in_time : never) = true;
  }
  CHECK(in_time);
  CHECK(never);
}

TEST_CASE("the first sentence tells no earlier moment than the pick", "[sense][property]") {
  const line::Line line = test::scenario("jewel-setter");
  const Sense sense = study::sense(line);
  REQUIRE(sense.works());
  REQUIRE(*sense.pick->told() > *sense.safe_after);
  const std::string said = report::sense_verdict(line, sense, {});
  CHECK_THAT(said, Catch::Contains("on in the pick of the file's [cycle]"));
  CHECK_THAT(said, !Catch::Contains("from 67.2 ms"));
  line::Line at_rest = line;
  at_rest.cycle.reset();
  CHECK_THAT(report::sense_verdict(at_rest, study::sense(at_rest), {}), Catch::Contains("Safe to decide from 67.2 ms"));
}

// The zero of the bridge stands on the amplifier's lower rail: whatever the gain, it fails in the same builds.
TEST_CASE("where no gain is better than another the front end is judged at the largest", "[sense][property]") {
  const line::Line line = large_reservoir("0.4");
  const Sense sense = study::sense(line);
  CHECK(sense.best_gain == 0.0);
  const FrontEndOutcome& own = sense.front_ends.at(static_cast<std::size_t>(line::FrontEnd::instrumentation));
  CHECK(own.own);
  CHECK(own.gain == 25.0);  // as in the file
  CHECK_FALSE(own.works);
  CHECK(own.share_alive == sense.share_alive);
  CHECK(own.counts > 1500.0);
  const double least = sense.states.front().reading.vacuum, most = sense.states.back().reading.vacuum;
  // Not the file's own, the same amplifier would be tried at every gain.
  const line::Sensor best = with_front_end(*line.sensor, line::FrontEnd::instrumentation, least, most);
  CHECK(best.amplifier.gain.value > 25.0);
  CHECK(share_alive(chain_of(best), least, most) > sense.share_alive - 2e-3);
}

TEST_CASE("what lies within noise of the threshold is neither held nor missed", "[report][sense][property]") {
  Sense sense = study::sense(large_reservoir("0.4"));
  for (SensedState& state : sense.states)
    if (state.name == "half covered") {
      state.reading.read = sense.threshold - 1.5 * state.deviation;
      CHECK_THAT(report::sense_caution(sense, {}),
                 Catch::Contains("so near the threshold that noise has it held or missed."));
      state.reading.read = sense.threshold - 4.0 * state.deviation;
      CHECK_THAT(report::sense_caution(sense, {}), Catch::Contains(", as missed."));
      state.reading.read = sense.threshold + 4.0 * state.deviation;
      CHECK_THAT(report::sense_caution(sense, {}), Catch::Contains(", as held."));
    }
}
