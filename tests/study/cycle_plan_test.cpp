// The order of a schedule's events, and what doesn't hang on when they come.
#include "study/cycle_plan.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <vector>

#include "lines/lines.hpp"
#include "study/cycle_lines.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using study::Act;
using study::Plan;
using study::PlannedEvent;
using test::quick;

namespace {

/// The acts of one head, or of the pumps, in the order in which they are played.
std::vector<PlannedEvent> acts_of(const Plan& plan, std::size_t head, std::initializer_list<Act> which) {
  std::vector<PlannedEvent> acts;
  for (const PlannedEvent& e : plan.events)
    if (e.head == head && std::find(which.begin(), which.end(), e.act) != which.end()) acts.push_back(e);
  return acts;
}

/// The first act out of turn; -1: none.
int out_of_turn(const std::vector<PlannedEvent>& acts, std::initializer_list<Act> order) {
  for (std::size_t k = 0; k < acts.size(); ++k)
    if (acts[k].act != *(order.begin() + k % order.size()) || acts[k].repeat != static_cast<int>(k / order.size()))
      return static_cast<int>(k);
  return -1;
}

}  // namespace

// (n-1) P + (P + d) and n P + d are the same moment on paper, and differ by the last digit as numbers.
TEST_CASE("what falls together at the end of a cycle keeps its order, whatever the last digits",
          "[study][cycle][property]") {
  line::Line line = test::two_heads(0.0);
  line.cycle->touch = 20e-3;  // the last stretch down takes 25 ms: it begins as the cycle does, and the nozzle leaves
  line.cycle->valve_on = 0.0;
  line.cycle->place = 0.2;
  line.cycle->retract.reset();  // as the cycle ends
  line.cycle->pump_always_on = false;
  for (int period = 301; period < 420; period += 7)
    for (int delay = 1; delay < 900; delay += 13) {
      line.cycle->period = 1e-3 * period;
      line.cycle->pump_off = 1e-3 * period;
      line.cycle->heads[0].delay = 1e-3 * delay;
      const Plan plan = study::plan(line, 8);
      CAPTURE(period, delay);
      for (const std::size_t head : {0, 1})
        REQUIRE(out_of_turn(acts_of(plan, head, {Act::approach, Act::touch, Act::retract}),
                            {Act::approach, Act::touch, Act::retract}) == -1);
      REQUIRE(out_of_turn(acts_of(plan, 0, {Act::pump_starts, Act::pump_stops}), {Act::pump_starts, Act::pump_stops}) ==
              -1);
      for (const PlannedEvent& e : plan.events) {
        REQUIRE(e.at >= 0.0);
        REQUIRE(e.at < plan.period);
        REQUIRE_THAT(e.turn * plan.period + e.at, WithinAbs(e.repeat * plan.period + e.since, 1e-9));
      }
    }
}

TEST_CASE("a vent that is to stay open for longer than a cycle shuts as the valve opens again",
          "[study][cycle][property]") {
  line::Line line = test::scenario("two-spindle-sorter");
  const double period = line.cycle->period->value;
  line.cycle->vent_time = period - 1e-3;
  const auto nearly = study::cycle(line, quick());
  line.cycle->vent_time.reset();
  const auto throughout = study::cycle(line, quick());
  for (const double over : {5e-3, 20e-3, 1.0}) {
    CAPTURE(over);
    line.cycle->vent_time = period + over;
    const auto longer = study::cycle(line, quick());
    REQUIRE(longer.heads.size() == 2);
    for (std::size_t k = 0; k < 2; ++k) {
      REQUIRE(longer.heads[k].let_go);
      CHECK(longer.heads[k].let_go == throughout.heads[k].let_go);
      CHECK_THAT(*longer.heads[k].let_go, WithinAbs(*nearly.heads[k].let_go, 1e-5));
    }
  }
}

// Steps in the first moments of a blow-off are shorter than what 1e-14 of an hour is.
TEST_CASE("a schedule that comes later is the same pick", "[study][cycle][property]") {
  const auto shifted = [](double later) {
    support::Builder b;
    b.pump("pump", {{0.0, 2.0}, {80e3, 0.0}}).tube("hose", 2.5e-3, 1.0).valve("valve", 0.3, 0.35).vent(0.2);
    b.tube("short hose", 2.5e-3, 0.5).nozzle("nozzle", 0.8e-3, 6e-3, 2e-3).part(10e-6, 5e-6);
    b.line.elements[1].leaks.push_back(line::Hole{0.5e-3, 0.72});
    b.line.elements[2].valve->vent->blow_off = 30e3;
    b.line.cycle.emplace();
    line::Cycle& cycle = *b.line.cycle;
    cycle.valve_on = later + 40e-3;
    cycle.touch = later + 30e-3;
    cycle.place = later + 0.2;
    cycle.retract = later + 0.3;
    return study::cycle(b.line, quick(solve::Thermal::wall)).heads.at(0);
  };
  const study::HeadCycle now = shifted(0.0);
  REQUIRE(now.safe_lift);
  REQUIRE(now.let_go);
  for (const double later : {20.0, 500.0}) {
    CAPTURE(later);
    const study::HeadCycle then = shifted(later);
    REQUIRE(then.safe_lift);
    REQUIRE(then.let_go);
    CHECK_THAT(*then.safe_lift - later, WithinAbs(*now.safe_lift, 1e-8));
    CHECK_THAT(*then.let_go - later, WithinAbs(*now.let_go, 1e-8));
    CHECK_THAT(then.margin_in_travel, WithinAbs(now.margin_in_travel, 0.1));
    CHECK_THAT(then.blow, WithinAbs(now.blow, 0.1));
  }
}
