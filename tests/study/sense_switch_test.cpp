// A ready-made switch in the sensor's place: error rates, set points, moments.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "laws/detection.hpp"
#include "line/difference.hpp"
#include "line/quantities.hpp"
#include "lines/lines.hpp"
#include "study/question.hpp"
#include "study/sense.hpp"

using namespace airtally;
using namespace airtally::study;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// The jewel setter with a switch that goes on at `on` [Pa].
line::Line switched(double on, double hysteresis) {
  line::Line line = test::scenario("jewel-setter");
  line::Sensor sensor;
  sensor.at = "gauge tee";
  sensor.tube = line.sensor->tube;
  sensor.volume = line.sensor->volume;
  sensor.noise = 1e3;
  sensor.ready_made = line::VacuumSwitch{on, hysteresis, 0.0};
  line.sensor = sensor;
  return line;
}

/// The same with nothing that scatters but the switch itself, and without a cycle.
line::Line quiet(double on, double hysteresis) {
  line::Line line = switched(on, hysteresis);
  test::element(line, "pump").pump->ripple_peak_to_peak.reset();
  line.part->gap = line.part->gap.value;
  line.cycle.reset();
  return line;
}

const SensedState& state_of(const Sense& sense, const std::string& name) {
  for (const SensedState& s : sense.states)
    if (s.name == name) return s;
  throw std::runtime_error("no state " + name);
}

double felt(const Sense& sense, const std::string& name) { return state_of(sense, name).reading.vacuum; }

}  // namespace

// Normal tails by Python's statistics.NormalDist, 1 - NormalDist().cdf(x): 2 -> 0.02275013194817921,
// 1.5 -> 0.06680720126885809, 1 -> 0.15865525393145705, 0.75 -> 0.2266273523768682; Abramowitz and Stegun, table 26.1,
// has the same to the digits that it prints (from memory).
TEST_CASE("a switch errs as often as the bell curve's tails beyond its set points", "[sense][closed-form]") {
  const Sense at_first = study::sense(quiet(40e3, 1e3));
  const double off = felt(at_first, "open") + 2e3, on = felt(at_first, "part") - 1.5e3;
  line::Line line = quiet(on, on - off);
  const Sense exact = study::sense(line);
  CHECK_THAT(exact.taught.false_above, WithinRel(0.02275013194817921, 1e-6));
  CHECK_THAT(exact.taught.false_below, WithinRel(0.06680720126885809, 1e-6));
  CHECK_THAT(exact.computed.false_above, WithinRel(exact.taught.false_above, 1e-12));
  CHECK_THAT(exact.separation, WithinRel(1.5, 1e-6));
  CHECK_FALSE(exact.tells);
  // An accuracy of 2 sqrt(3) kPa is a deviation of sqrt(3) kPa, and sqrt(1 + 3) = 2 with the noise of 1 kPa.
  line.sensor->accuracy = 2e3 * std::sqrt(3.0);
  const Sense any = study::sense(line);
  CHECK(any.taught.false_above == exact.taught.false_above);
  CHECK_THAT(any.computed.false_above, WithinRel(0.15865525393145705, 1e-6));
  CHECK_THAT(any.computed.false_below, WithinRel(0.2266273523768682, 1e-6));
  CHECK_THAT(any.separation, WithinRel(0.75, 1e-6));
  // It is judged by what any such switch does: exactly set it would do here.
  line.sensor->allowed = 0.1;
  CHECK_FALSE(study::sense(line).tells);
  line.sensor->accuracy = 0.0;
  CHECK(study::sense(line).tells);
}

TEST_CASE("noise, ripple and gaps reach a switch as they are, and nothing is averaged", "[sense][closed-form]") {
  line::Line line = switched(40e3, 1e3);
  const Sense sense = study::sense(line);
  REQUIRE(sense.noises.size() == 2);
  CHECK(sense.noises[0].what == "switching");
  for (const Noise& noise : sense.noises) CHECK(noise.one == noise.decided);
  CHECK_THAT(sense.noise, WithinRel(std::hypot(1e3, sense.noises[1].one), 1e-12));
  CHECK_THAT(state_of(sense, "part").deviation, WithinRel(std::hypot(sense.noise, sense.gap_spread), 1e-12));
  CHECK(sense.front_ends.empty());
  CHECK(sense.averaging_time == 0.0);
}

// An amplifier without errors, a straight ADC of 32 bits and one reading a decision leave a threshold and the sensor's
// own noise: a switch without hysteresis.
TEST_CASE("without hysteresis a switch is an ideal sensor's threshold", "[sense][agreement]") {
  line::Line line = switched(40e3, 0.0);
  line::Line ideal = line;
  line::Sensor& bridge = *ideal.sensor;
  bridge.ready_made.reset();
  bridge.span = 0.1;
  bridge.amplifier.gain = 10.0;
  bridge.amplifier.bias = 0.5;
  bridge.adc.bits = 32;
  const Sense threshold = study::sense(ideal);
  line.sensor->ready_made->on = threshold.threshold;
  line.sensor->ready_made->response = threshold.averaging_time;
  const Sense sense = study::sense(line);
  REQUIRE(threshold.tells);
  REQUIRE(sense.tells);
  CHECK_THAT(sense.taught.false_above, WithinRel(threshold.taught.false_above, 1e-6));
  CHECK_THAT(sense.taught.false_below, WithinRel(threshold.taught.false_below, 1e-6));
  CHECK_THAT(sense.points->best_on.value(), WithinRel(threshold.threshold, 1e-6));
  CHECK_THAT(*sense.safe_after, WithinRel(*threshold.safe_after, 1e-5));
  REQUIRE(sense.pick);
  CHECK(sense.pick->told() == threshold.pick->told());
  CHECK_THAT(*sense.clogged_looks_held, WithinAbs(*threshold.clogged_looks_held, 1e-4));
  for (std::size_t k = 0; k < sense.places.size(); ++k)
    CHECK_THAT(sense.places[k].separation, WithinRel(threshold.places[k].separation, 1e-6));
  // And where nobody taught it.
  line.sensor->accuracy = ideal.sensor->accuracy = 8e3;
  CHECK_THAT(study::sense(line).computed.false_above, WithinRel(study::sense(ideal).computed.false_above, 1e-6));
  CHECK_THAT(study::sense(line).computed.false_below, WithinRel(study::sense(ideal).computed.false_below, 1e-6));
}

TEST_CASE("a switch set above what the part gives never goes on", "[sense][property]") {
  const Sense sense = study::sense(switched(70e3, 1e3));
  CHECK(sense.taught.false_below > 0.999);
  CHECK(sense.taught.false_above < 1e-9);
  CHECK(sense.separation < 0.0);
  CHECK_FALSE(sense.tells);
  CHECK_FALSE(sense.safe_after);
  CHECK_FALSE(sense.pick);
  for (const SensedState& state : sense.states) CHECK(state.says == SwitchSays::off);
  // It need only be set lower.
  REQUIRE(sense.points->best_on);
  CHECK(*sense.points->best_on < felt(sense, "part"));
}

TEST_CASE("a switch set below the open tip's vacuum never goes off", "[sense][property]") {
  const Sense sense = study::sense(switched(10e3, 1e3));
  CHECK(sense.taught.false_above > 0.999);
  CHECK_FALSE(sense.tells);
  CHECK(sense.clogged_looks_held == 0.0);
  for (const SensedState& state : sense.states) CHECK(state.says == SwitchSays::on);
  // Between its set points the open tip leaves it as it was.
  const Sense wide = study::sense(switched(40e3, 25e3));
  CHECK(state_of(wide, "open").says == SwitchSays::as_before);
  CHECK(state_of(wide, "part").says == SwitchSays::on);
  CHECK_FALSE(wide.tells);
}

TEST_CASE("set as advised a switch just tells, and no longer with more hysteresis", "[sense][property]") {
  for (const double hysteresis : {0.0, 2e3, 15e3, 40e3}) {
    CAPTURE(hysteresis);
    line::Line line = quiet(45e3, hysteresis);
    line.sensor->accuracy = 1e3;
    const SwitchPoints points = study::sense(line).points.value();
    REQUIRE(points.best_on);
    line.sensor->ready_made->on = *points.best_on;
    line.sensor->ready_made->hysteresis = *points.most_hysteresis * (1.0 - 1e-9);
    const Sense widest = study::sense(line);
    CHECK(widest.tells);
    CHECK_THAT(widest.computed.false_above, WithinRel(line.sensor->allowed.value, 1e-3));
    line.sensor->ready_made->hysteresis = *points.most_hysteresis + 10.0;
    CHECK_FALSE(study::sense(line).tells);
    // With its own hysteresis, no set point near errs less.
    if (hysteresis > *points.most_hysteresis) continue;
    const auto errs = [&](double on) {
      line.sensor->ready_made->on = on;
      line.sensor->ready_made->hysteresis = hysteresis;
      const laws::ErrorRates rates = study::sense(line).computed;
      return rates.false_above + rates.false_below;
    };
    CHECK(errs(*points.best_on) <= errs(*points.best_on - 500.0));
    CHECK(errs(*points.best_on) <= errs(*points.best_on + 500.0));
  }
  line::Line blind = quiet(45e3, 1e3);
  blind.sensor->noise = 20e3;
  const SwitchPoints none = study::sense(blind).points.value();
  CHECK_FALSE(none.best_on);
  CHECK_FALSE(none.most_hysteresis);
  CHECK(none.on_highest < none.off_lowest);
}

TEST_CASE("a switch's response only comes later, at rest and in the pick", "[sense][property]") {
  line::Line line = switched(40e3, 1e3);
  const Sense at_once = study::sense(line);
  REQUIRE(at_once.tells);
  REQUIRE(at_once.pick);
  REQUIRE(at_once.pick->held);
  line.sensor->ready_made->response = 7e-3;
  const Sense lagging = study::sense(line);
  CHECK(lagging.averaging_time == 7e-3);
  CHECK_THAT(*lagging.safe_after, WithinAbs(*at_once.safe_after + 7e-3, 1e-9));
  CHECK_THAT(*lagging.pick->held, WithinAbs(*at_once.pick->held + 7e-3, 1e-9));
  CHECK(lagging.taught.false_above == at_once.taught.false_above);
  // More hysteresis waits longer for a missed part, no less for a held one.
  line.sensor->ready_made->hysteresis = 8e3;
  const Sense wide = study::sense(line);
  REQUIRE(wide.pick->missed);
  CHECK(*wide.pick->missed > *lagging.pick->missed);
  CHECK(*wide.pick->held == *lagging.pick->held);
}

TEST_CASE("a switch's values are reached by name, and a bridge's are gone", "[sense][line][property]") {
  line::Line line = switched(45e3, 2e3);
  std::vector<std::string> names;
  line::each_quantity(line, [&](const line::QuantityName& name, const units::Quantity&, units::Dimension) {
    if (name.path().starts_with("sensor.")) names.push_back(name.path());
  });
  CHECK(names == std::vector<std::string>{"sensor.tube.bore", "sensor.tube.length", "sensor.volume", "sensor.accuracy",
                                          "sensor.noise", "sensor.allowed", "sensor.switch.on",
                                          "sensor.switch.hysteresis", "sensor.switch.response"});
  line::Line other = line;
  other.sensor->ready_made->on = 40e3;
  const std::vector<line::Line> both{line, other};
  const auto differences = line::differences(both);
  REQUIRE(differences.size() == 1);
  CHECK(differences[0].owner == "sensor");
  CHECK(differences[0].key == "switch.on");
  const std::vector<line::Line> kinds{line, test::scenario("jewel-setter")};
  const auto found = line::differences(kinds);
  CHECK(std::any_of(found.begin(), found.end(), [](const auto& d) { return d.key == "switch"; }));
  CHECK(std::any_of(found.begin(), found.end(), [](const auto& d) { return d.key == "span"; }));
}

TEST_CASE("bands draw a switch's set point where it is not sure", "[sense][property]") {
  line::Line line = quiet(45e3, 2e3);
  line.sensor->ready_made->on = units::Quantity::normal(45e3, 2e3);
  const Question question = study::sense_question(line, std::nullopt);
  CHECK_FALSE(study::drawn_from(question, line).sensor->ready_made->on.is_exact());
  const std::vector<double> out = study::nominal(question, line);
  REQUIRE(out.size() == question.measures.size());
  CHECK(out.back() == 45e3);
  for (const double value : out) CHECK(std::isfinite(value));
}
