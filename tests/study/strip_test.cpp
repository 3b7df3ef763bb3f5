// The removal test on paper: the planted leak is found, and the readings are those of lines made by hand.
#include "study/strip.hpp"

#include <catch2/catch.hpp>

#include "support/lines.hpp"

using namespace airtally;
using namespace airtally::study;
using Catch::Matchers::WithinAbs;
using solve::TipState;
using support::Builder;

namespace {

/// A tight line in series with a gauge near the pump; `leaky` names the element with a leak.
line::Line series(const std::string& leaky, std::size_t up_to = 99) {
  Builder b;
  b.pump("pump", {{0, 8}, {75e3, 0}}, 5e-6);
  const auto add = [&](const char* name, auto make) {
    if (b.line.elements.size() > up_to) return;
    make(name);
    if (leaky == name) b.leak(support::hole(0.35e-3));
  };
  add("tee", [&](const char* n) { b.tee(n).gauge(); });
  add("hose", [&](const char* n) { b.tube(n, 4e-3, 0.5); });
  add("valve", [&](const char* n) { b.valve(n, 0.3); });
  add("filter", [&](const char* n) { b.filter(n, 6, 2e3); });
  add("joint", [&](const char* n) { b.tube(n, 2e-3, 20e-3, line::Kind::rotary); });
  add("spindle", [&](const char* n) { b.tube(n, 2e-3, 60e-3, line::Kind::spindle); });
  if (b.line.elements.size() <= up_to) b.nozzle("nozzle", 1e-3, 5e-3, 2e-3);
  return b.line;
}

const StripReading* reading_at(const StripStep& step, std::size_t element) {
  for (const StripReading& r : step.readings)
    if (r.at == element) return &r;
  return nullptr;
}

}  // namespace

TEST_CASE("a planted leak is found at every element", "[study][property]") {
  for (const char* leaky : {"tee", "hose", "valve", "filter", "joint", "spindle"}) {
    const line::Line line = series(leaky);
    const Strip result = strip(line, solve::all_tips(line, TipState::blocked));
    CAPTURE(leaky);
    REQUIRE(result.culprit);
    CHECK(line.elements[*result.culprit].name == leaky);
    CHECK(result.steps.size() == line.elements.size());
    CHECK(result.judge == 1);
    CHECK_FALSE(result.assumed_gauge);
    CHECK_FALSE(result.by_current);
  }
  const line::Line tight = series("none");
  CHECK_FALSE(strip(tight, solve::all_tips(tight, TipState::blocked)).culprit);
}

TEST_CASE("readings are those of the line cut off by hand", "[study][agreement]") {
  const line::Line line = series("filter");
  const Strip result = strip(line, solve::all_tips(line, TipState::blocked));
  for (const StripStep& step : result.steps) {
    // The same line written down only as far as the cap; its own end is blocked by there being nothing more. The minor
    // loss at the cut differs, but nothing flows there.
    const line::Line short_line = series("filter", step.cap);
    const solve::SteadyAnswer answer = solve::steady(short_line, solve::all_tips(short_line, TipState::blocked));
    CAPTURE(step.cap);
    const StripReading* pump = reading_at(step, 0);
    REQUIRE(pump);
    CHECK_THAT(pump->vacuum, WithinAbs(answer.sources[0].vacuum, 1e-3));
    const StripReading* gauge = reading_at(step, 1);
    CHECK((gauge != nullptr) == (step.cap >= 1));  // a cap at the pump takes the gauge off
    if (gauge) CHECK_THAT(gauge->vacuum, WithinAbs(answer.elements[1].vacuum, 1e-3));
  }
}

TEST_CASE("where the gauge is off the line the source stands in", "[study][property]") {
  // The gauge sits far out; the leak near the pump. Steps without the gauge are judged at the pump.
  Builder b;
  b.pump("pump", {{0, 8}, {75e3, 0}})
      .tube("hose", 4e-3, 0.5)
      .leak(support::hole(0.4e-3))
      .tube("second", 4e-3, 0.5)
      .tee("far tee")
      .gauge()
      .tube("third", 3e-3, 0.2)
      .nozzle("nozzle", 1e-3, 5e-3, 2e-3);
  const Strip result = strip(b.line, solve::all_tips(b.line, TipState::blocked));
  CHECK(result.judge == 3);
  REQUIRE(result.culprit);
  CHECK(*result.culprit == 1);
  const StripStep& step = result.steps[1];
  CHECK(step.cap == 1);
  CHECK(step.before == 0);
  CHECK_THAT(step.change, WithinAbs(reading_at(result.steps[0], 0)->vacuum - reading_at(step, 0)->vacuum, 1e-9));
  CHECK(step.change > 1e3);
}

TEST_CASE("an ammeter or an assumed gauge judges where there is no gauge", "[study][property]") {
  line::Line line = series("joint");
  line.elements[1].gauge.reset();
  CHECK(strip(line, solve::all_tips(line, TipState::blocked)).assumed_gauge);
  line.elements[0].pump->current = {{0.0, 0.2}, {75e3, 0.4}};
  const Strip result = strip(line, solve::all_tips(line, TipState::blocked));
  CHECK(result.by_current);
  CHECK_FALSE(result.assumed_gauge);
  for (const StripStep& step : result.steps) {
    REQUIRE(step.readings.front().current);
    // A straight line between the two points.
    CHECK_THAT(*step.readings.front().current, WithinAbs(0.2 + 0.2 * step.readings.front().vacuum / 75e3, 1e-9));
  }
}

TEST_CASE("a gauge in the plug reads what a gauge at the capped element does", "[study][agreement]") {
  const line::Line line = series("joint");
  const Strip result = strip(line, solve::all_tips(line, TipState::blocked));
  int compared = 0;
  for (const StripStep& step : result.steps)
    if (const StripReading* own = reading_at(step, step.cap)) {
      CHECK(step.end == own->vacuum);
      ++compared;
    }
  CHECK(compared >= 2);  // at the pump and at the gauge
  for (std::size_t s = 1; s < result.steps.size(); ++s) CHECK(result.steps[s].end <= result.steps[0].end);
}

TEST_CASE("branches that are not capped keep their tips", "[study][agreement]") {
  const line::Line line = support::two_spindles();
  const auto tips = solve::all_tips(line, TipState::part);
  const Strip result = strip(line, tips);
  for (const StripStep& step : result.steps) {
    if (line.elements[step.cap].name != "nozzle left") continue;
    std::vector<TipState> one_blocked = tips;
    one_blocked[0] = TipState::blocked;
    const solve::SteadyAnswer answer = solve::steady(line, one_blocked);
    CHECK_THAT(reading_at(step, 0)->vacuum, WithinAbs(answer.sources[0].vacuum, 1e-6));
  }
}

// Two pumps: while the branch of the second is capped it hangs on that pump alone, and the gauge of the first sees
// nothing of it.
TEST_CASE("where the gauge is not open to an element, the pump that it hangs on judges", "[study][property]") {
  Builder b;
  b.pump("pump 1", {{0, 8}, {70e3, 0}}).tube("hose 1", 4e-3, 1.0).tee("tee").gauge();
  b.nozzle("nozzle", 1e-3, 3e-3, 2e-3);
  b.pump("pump 2", {{0, 4}, {50e3, 0}}).tube("hose 2", 4e-3, 1.0).joins("tee").leak(support::hole(0.3e-3));
  const Strip result = strip(b.line, solve::all_tips(b.line, TipState::blocked));
  REQUIRE(result.culprit);
  CHECK(b.line.elements[*result.culprit].name == "hose 2");
  const StripStep& step = result.steps.back();
  REQUIRE(step.cap == *result.culprit);
  CHECK(b.line.elements[step.judge].name == "pump 2");
  StripStep before;
  before.readings = step.without;
  const double fall = reading_at(before, step.judge)->vacuum - reading_at(step, step.judge)->vacuum;
  CHECK_THAT(step.change, WithinAbs(fall, 1e-9));
  CHECK(step.change > 5e3);
}

// Two readings, each rounded and good to repeat within a step: three deviations of their difference are 2.45 steps.
TEST_CASE("a step that the instrument can't show is no culprit", "[study][closed-form]") {
  const auto found = [](double leak, double resolution, bool ammeter) {
    Builder b;
    b.pump("pump", {{0, 8}, {75e3, 0}});
    if (ammeter) b.line.elements[0].pump->current = {{0.0, 0.2}, {75e3, 0.4}};
    b.tee("tee");
    if (resolution > 0.0) b.gauge().line.elements[1].gauge->resolution = resolution;
    b.tube("hose", 4e-3, 0.5).leak(support::rated(leak)).nozzle("nozzle", 1e-3, 5e-3, 2e-3);
    return strip(b.line, solve::all_tips(b.line, TipState::blocked));
  };
  // 0.02 L/min at 60 kPa take some 0.3 kPa of the pump's.
  const double change = found(0.02, 100.0, false).steps[2].change;
  CHECK(change > 0.2e3);
  CHECK(found(0.02, change / 2.4, false).culprit.has_value() == false);
  CHECK(found(0.02, change / 2.5, false).culprit == 2U);
  // A usual gauge shows 0.1 kPa; a usual ammeter 0.2 % of the highest current, 0.8 mA here, and the step is as little.
  CHECK(found(0.005, 0.0, false).assumed_gauge);
  CHECK_FALSE(found(0.005, 0.0, false).culprit);
  CHECK(found(0.05, 0.0, false).culprit == 2U);
  CHECK_FALSE(found(0.02, 0.0, true).culprit);
  CHECK(found(0.2, 0.0, true).culprit == 2U);
}
