// What a rail or the end of the ADC's range holds can't be told, however far apart the vacuums are.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "laws/detection.hpp"
#include "lines/lines.hpp"
#include "study/sense.hpp"
#include "study/sense_decide.hpp"

using namespace airtally;
using namespace airtally::study;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

line::Line bench(double gain) {
  line::Line line = test::scenario("jewel-setter");
  line.sensor->amplifier.gain = gain;
  return line;
}

const SensedState& state(const Sense& sense, const std::string& name) {
  for (const SensedState& s : sense.states)
    if (s.name == name) return s;
  throw std::runtime_error("no state " + name);
}

}  // namespace

TEST_CASE("an amplifier at its rail with the part on leaves what lies below the rail", "[sense][property]") {
  // The open nozzle reads 13 mV below the rail, and noise is 16 mV: about one decision in five lies on the rail.
  const Sense sense = study::sense(bench(109.5));
  CHECK_FALSE(sense.tells);
  CHECK_FALSE(sense.safe_after);
  CHECK(sense.taught.false_above > 0.1);
  CHECK(sense.taught.false_above < 0.3);
  CHECK(sense.separation < 3.0);
  CHECK(sense.threshold < state(sense, "part").reading.read);
  CHECK(sense.threshold > state(sense, "open").reading.read);
  CHECK_FALSE(sense.at_threshold.clipped);
  CHECK(sense.at_threshold.output == sense.at_threshold.wanted);
  // Half covered, part and blocked are one reading, which is that of a held part.
  const std::vector<std::string> like_part{"half covered", "part, leaking", "blocked"};
  CHECK(state(sense, "part").alike == like_part);
  CHECK(state(sense, "open").alike.empty());
  CHECK(state(sense, "half covered").reading.read > sense.threshold);
  CHECK(state(sense, "part").deviation < 0.2 * state(sense, "open").deviation);
  // Nor does a threshold of this page on any other build.
  CHECK(sense.computed.false_above >= sense.taught.false_above);
}

TEST_CASE("a threshold lies where the output can go beyond it", "[sense][property]") {
  // At a gain of 80 the middle of the two vacuums would ask for 2.16 V of an output that stops at 1.8 V.
  for (const double gain : {47.0, 60.0, 80.0, 100.0}) {
    const Sense sense = study::sense(bench(gain));
    CAPTURE(gain);
    CHECK(sense.tells);
    CHECK(sense.at_threshold.output < 1.8);
    CHECK_FALSE(sense.at_threshold.clipped);
    CHECK(sense.at_threshold.counts < state(sense, "part").reading.counts);
    CHECK(sense.at_threshold.counts > state(sense, "open").reading.counts);
    REQUIRE(sense.safe_after);
  }
}

TEST_CASE("two states at one rail are told by nothing", "[sense][property]") {
  line::Line line = test::scenario("jewel-setter");
  line.sensor->vacuum_raises = false;
  const Sense sense = study::sense(line);
  CHECK_FALSE(sense.tells);
  CHECK(sense.threshold == 0.0);
  CHECK(sense.taught.false_above == 0.5);
  CHECK(sense.taught.false_below == 0.5);
  CHECK(sense.computed.false_above == 0.5);
  CHECK(sense.separation == 0.0);
  CHECK_FALSE(sense.safe_after);
  CHECK_FALSE(sense.clogged_looks_held);
  CHECK(state(sense, "open").alike.size() == 4);
  for (const FrontEndOutcome& front : sense.front_ends)
    if (front.own) CHECK(front.error_rate == 0.5);
  for (const SensorPlace& place : sense.places) CHECK(place.signal == 0.0);
}

// Drawn decisions against the formula: 200,000 of them scatter by 0.1 % around one in five.
TEST_CASE("the error rates at a rail are what drawing decisions gives", "[sense][agreement]") {
  std::mt19937 random(7);  // NOLINT(cert-msc51-cpp): the same draws every time
  std::normal_distribution<double> normal;
  const Seen seen{{{20.3e3, 184.0, 5.0, -1e6, 20.45e3}}, {{47.5e3, 186.0, 5.0, -1e6, 20.45e3}}};
  const double threshold = threshold_of(seen);
  const auto above = [&](const laws::Clipped& c) {
    constexpr int draws = 200'000;
    int count = 0;
    for (int i = 0; i < draws; ++i)
      count += std::min(c.mean + c.before * normal(random), c.high) + c.after * normal(random) > threshold ? 1 : 0;
    return static_cast<double>(count) / draws;
  };
  const laws::ErrorRates rates = rates_of(seen, threshold);
  CHECK_THAT(above(seen.open.reading), WithinAbs(rates.false_above, 4e-3));
  CHECK_THAT(1.0 - above(seen.part.reading), WithinAbs(rates.false_below, 4e-3));
  const auto wrong = [&](double at) {
    const laws::ErrorRates there = rates_of(seen, at);
    return there.false_above + there.false_below;
  };
  CHECK(wrong(threshold) <= wrong(threshold - 2.0));
  CHECK(wrong(threshold) <= wrong(threshold + 2.0));
  // Where both errors are alike each lies between the two that together are least.
  CHECK(equal_error(seen) < rates.false_above);
  CHECK(equal_error(seen) > rates.false_below);
}

TEST_CASE("far from every limit the decision is between two normal readings", "[sense][closed-form]") {
  const Seen seen{{{20e3, 150.0, 80.0, -1e6, 1e6}}, {{21e3, 300.0, 80.0, -1e6, 1e6}}};
  const laws::Scatter open{20e3, 170.0}, part{21e3, std::hypot(300.0, 80.0)};
  CHECK_THAT(threshold_of(seen), WithinRel(laws::best_threshold(open, part), 1e-12));
  CHECK_THAT(separation(seen), WithinRel(laws::separation(open, part), 1e-12));
  CHECK_THAT(equal_error(seen), WithinRel(laws::upper_tail(laws::separation(open, part)), 1e-9));
  const laws::ErrorRates mine = rates_of(seen, 20.4e3), theirs = laws::error_rates(open, part, 20.4e3);
  CHECK_THAT(mine.false_above, WithinRel(theirs.false_above, 1e-12));
  CHECK_THAT(mine.false_below, WithinRel(theirs.false_below, 1e-12));
  CHECK_THAT(safe_vacuum(seen.part, 20.4e3, 1e-3),
             WithinRel(20.4e3 + laws::deviations_for(1e-3) * part.deviation, 1e-12));
}

TEST_CASE("the noise of the ADC is held by the end of its own range alone", "[sense][property]") {
  line::Sensor sensor = *test::scenario("jewel-setter").sensor;
  const auto reading = [&] {
    const Chain chain = chain_of(sensor);
    return decided_reading(chain, 60e3, chain.noises);
  };
  const laws::Clipped at_rail = reading();
  sensor.amplifier.rail_high.reset();
  sensor.adc.reference = 1.8;
  const laws::Clipped at_range = reading();
  CHECK_THAT(at_range.high, WithinRel(at_rail.high, 1e-12));
  CHECK(at_range.before > at_rail.before);
  CHECK(at_range.after < at_rail.after);
}

TEST_CASE("a sensor made for less vacuum than it feels is told of", "[sense][property]") {
  const auto beyond = [](const std::string& note) { return note.starts_with("the sensor is made for "); };
  line::Line line = bench(47.0);
  const Sense within = study::sense(line);
  CHECK(std::none_of(within.notes.begin(), within.notes.end(), beyond));
  line.sensor->range = 40e3;
  const Sense outside = study::sense(line);
  REQUIRE(std::any_of(outside.notes.begin(), outside.notes.end(), beyond));
}

TEST_CASE("no ADC says more than its highest code", "[sense][property]") {
  line::Line line = bench(400.0);
  line.sensor->amplifier.rail_high.reset();
  const Sense sense = study::sense(line);
  CHECK(state(sense, "part").reading.output == 3.3);
  CHECK(state(sense, "part").reading.counts == 1023.0);
}
