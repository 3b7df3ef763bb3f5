#include "study/cycle.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "errors.hpp"
#include "gas/air.hpp"
#include "line/topology.hpp"
#include "study/cycle_lines.hpp"
#include "study/cycle_plan.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using study::CycleAnswer;
using study::HeadCycle;
using test::quick;
using test::single_volume;
using test::vacuum_at;

namespace {

std::string refused(const line::Line& line) {
  try {
    study::plan(line);
  } catch (const BadInput& error) {
    return error.complaints().front().sentence;
  }
  return "(accepted)";
}

}  // namespace

// As long as the flow chokes, a volume behind a valve of sonic conductance C empties as p = p0 exp(-s/tau), tau =
// V/(C rho0 R T), s the time that the valve has been open; over an even ramp of length r it counts half (r/2). 1e-3:
// the reservoir rises by a hundredth of what comes in, and the millimetre of nozzle adds a ten-thousandth of volume.
TEST_CASE("a valve opens on a volume after its delay and half its ramp", "[study][cycle][closed-form]") {
  const double needed = 30e3;  // to lift; the flow is choked down to p = 3.3/0.3 kPa
  for (const double ramp : {0.0, 4e-3, 20e-3}) {
    CAPTURE(ramp);
    line::Line line = single_volume(0.5 * needed);
    line.elements[2].valve->opens = 8e-3;
    line.elements[2].valve->ramp = ramp;
    const HeadCycle head = study::cycle(line, quick()).heads.at(0);
    const double volume = 10e-6 + 0.25 * std::numbers::pi * 1e-6 * 1e-3;
    const double tau = volume / (0.1e-8 * gas::free_air_density * gas::air_at(293.15).rt);
    const double open = tau * std::log(101325.0 / (101325.0 - needed));
    REQUIRE(open > ramp);  // the ramp is over by then
    REQUIRE(head.safe_lift);
    CHECK_THAT(*head.safe_lift, WithinRel(20e-3 + 8e-3 + 0.5 * ramp + open, 1e-3));
    CHECK_THAT(head.needed_to_lift, WithinRel(needed, 1e-9));
    CHECK(head.lift == *head.safe_lift);
    CHECK_THAT(head.margin_at_lift, WithinAbs(0.0, 1.0));
  }
}

// A lift that is left to the safe moment has its vacuum by definition; whether it works must not hang on the last digit
// of the moment found. The part of these lines makes no moves, so that to travel it needs no more than to lift.
TEST_CASE("a lift as soon as it is safe works", "[study][cycle][property]") {
  for (int k = 1; k <= 40; ++k) {
    const line::Line line = single_volume(500.0 * k);
    const HeadCycle head = study::cycle(line, quick()).heads.at(0);
    CAPTURE(k, head.margin_at_lift, head.margin_in_travel);
    REQUIRE(head.safe_lift);
    CHECK(head.margin_at_lift >= 0.0);
    CHECK(head.works());
  }
}

// The same valve and volume, pumped down to what the sideways moves need: p_amb - needed = p0 exp(-s/tau), choked.
TEST_CASE("a lift that is left out waits for the travel that begins with it", "[study][cycle][closed-form]") {
  line::Line line = single_volume(5e3);
  line.move.emplace();
  line.move->travel = 3.0;
  const auto reached = [](double needed) {
    const double volume = 10e-6 + 0.25 * std::numbers::pi * 1e-6 * 1e-3;
    const double tau = volume / (0.1e-8 * gas::free_air_density * gas::air_at(293.15).rt);
    return 20e-3 + tau * std::log(101325.0 / (101325.0 - needed));
  };
  const HeadCycle waits = study::cycle(line, quick()).heads.at(0);
  REQUIRE(waits.needed_to_travel > 2.0 * waits.needed_to_lift);
  REQUIRE(waits.needed_to_travel < 70e3);
  REQUIRE(waits.safe_lift);
  CHECK(waits.travels_with_lift);
  CHECK_THAT(*waits.safe_lift, WithinRel(reached(waits.needed_to_travel), 1e-3));
  CHECK(waits.safe_travel == waits.safe_lift);
  CHECK(waits.lift == *waits.safe_lift);
  CHECK(waits.travel == *waits.safe_lift);
  CHECK(waits.margin_in_travel >= 0.0);
  CHECK(waits.works());

  // A travel of its own leaves the lift to what the lift needs.
  line.cycle->travel = 0.3;
  const HeadCycle early = study::cycle(line, quick()).heads.at(0);
  REQUIRE(early.safe_lift);
  CHECK_FALSE(early.travels_with_lift);
  CHECK_THAT(*early.safe_lift, WithinRel(reached(early.needed_to_lift), 1e-3));
  CHECK(*early.safe_travel == Approx(*waits.safe_travel));
  CHECK(early.works());

  // Where the line never has what travel needs, the head that lifts all the same would lose its part.
  line.cycle->travel.reset();
  line.move->travel = 300.0;
  const HeadCycle never = study::cycle(line, quick()).heads.at(0);
  CHECK_FALSE(never.safe_lift);
  CHECK_FALSE(never.safe_travel);
  CHECK_FALSE(never.works());
}

// Filling through an ISO 6358 element, isothermal: in r = p/p_amb, dr/dt = 1/tau up to b and sqrt(1 -
// ((r-b)/(1-b))^2)/tau beyond, so t = tau (b - r0 + (1-b) asin((r1-b)/(1-b))). (Ellipse of ISO 6358; integrated by
// hand.)
TEST_CASE("a part is let go when its volume has filled through the vent", "[study][cycle][closed-form]") {
  for (const double weight : {2e3, 10e3, 30e3}) {
    CAPTURE(weight);
    line::Line line = single_volume(weight);
    line.elements[2].valve->closes = 6e-3;
    const CycleAnswer answer = study::cycle(line, quick());
    const HeadCycle& head = answer.heads.at(0);
    REQUIRE(head.let_go);
    const double volume = 10e-6 + 0.25 * std::numbers::pi * 1e-6 * 1e-3;
    const double tau = volume / (0.1e-8 * gas::free_air_density * gas::air_at(293.15).rt), b = 0.3;
    const double start = 1.0 - vacuum_at(answer, 0, 0.4) / 101325.0, end = 1.0 - weight / 101325.0;
    REQUIRE(start < b);
    const double fill = tau * (b - start + (1.0 - b) * std::asin((end - b) / (1.0 - b)));
    CHECK_THAT(*head.let_go - head.release, WithinRel(6e-3 + fill, 2e-3));
    CHECK(head.blow < 1.0);
  }
}

TEST_CASE("what was never held has gone when the release begins", "[study][cycle][property]") {
  const CycleAnswer answer = study::cycle(single_volume(500e3), quick());
  const HeadCycle& head = answer.heads.at(0);
  REQUIRE(head.let_go);
  CHECK(*head.let_go == head.release);
  for (const std::string& note : answer.notes) CHECK(note.find("still holds") == std::string::npos);
}

TEST_CASE("air that is warmed by filling lets go sooner, then draws again as it cools", "[study][cycle][property]") {
  const line::Line line = single_volume(2e3);
  const auto let_go = [&](solve::Thermal thermal) {
    return study::cycle(line, quick(thermal)).heads.at(0).let_go.value();
  };
  const double isothermal = let_go(solve::Thermal::isothermal), adiabatic = let_go(solve::Thermal::adiabatic),
               wall = let_go(solve::Thermal::wall);
  CHECK(adiabatic < wall);
  CHECK(wall < isothermal);
  // The vent shut again as soon as the part is free: by conduction alone the warm air then shrinks and pulls.
  line::Line short_vent = line;
  short_vent.cycle->vent_time = wall - 0.4;
  study::CycleOptions options = quick(solve::Thermal::wall);
  const CycleAnswer answer = study::cycle(short_vent, options);
  CHECK(vacuum_at(answer, 0, 0.75) > 4e3);
}

TEST_CASE("events come in the order of time, at the times that the file gives", "[study][cycle][property]") {
  line::Line line = single_volume(10e3);
  line.elements[2].valve->opens = 8e-3;
  line.elements[2].valve->closes = 6e-3;
  line.cycle->vent_time = 0.1;
  const CycleAnswer answer = study::cycle(line, quick());
  std::vector<std::pair<double, std::string>> is;
  for (const auto& e : answer.events) is.emplace_back(e.time, line.elements[e.element].name + ' ' + e.what);
  const std::vector<std::pair<double, std::string>> expected{{0.0, "nozzle begins its last stretch down"},
                                                             {10e-3, "nozzle meets the part"},
                                                             {28e-3, "valve opens towards the pump"},
                                                             {406e-3, "valve closes and vents"},
                                                             {506e-3, "valve ends the vent"},
                                                             {800e-3, "nozzle leaves the part"}};
  REQUIRE(is.size() == expected.size());
  for (std::size_t k = 0; k < is.size(); ++k) {
    CHECK(is[k].second == expected[k].second);
    CHECK_THAT(is[k].first, WithinAbs(expected[k].first, 1e-12));
  }
}

TEST_CASE("a schedule that can't be kept is refused in whole sentences", "[study][cycle][property]") {
  const std::string order =
      "; a pick goes touch, lift, travel, place, retract, with valve-on before the lift and release after it.";
  line::Line line = single_volume(10e3);
  line.cycle->lift = 5e-3;
  CHECK(refused(line) == "[cycle]: lift = 5 ms is before touch = 10 ms" + order);
  line = single_volume(10e3);
  line.cycle->valve_on = 0.2;
  line.cycle->lift = 0.1;
  CHECK(refused(line) == "[cycle]: lift = 100 ms is before valve-on = 200 ms" + order);
  line.cycle->lift.reset();
  line.cycle->valve_on = 0.5;
  line.cycle->release = 0.6;
  CHECK(refused(line) == "[cycle]: place = 400 ms is before valve-on = 500 ms" + order);
  line = single_volume(10e3);
  line.cycle->lift = 0.2;
  line.cycle->release = 0.1;
  CHECK(refused(line) == "[cycle]: release = 100 ms is before lift = 200 ms" + order);
  line = single_volume(10e3);
  line.cycle->retract = 0.3;
  CHECK(refused(line) == "[cycle]: retract = 300 ms is before place = 400 ms" + order);
  line = single_volume(10e3);
  line.cycle->period = 0.7;
  CHECK(refused(line) == "[cycle]: period = 700 ms is before retract = 800 ms" + order);
  line = single_volume(10e3);
  line.cycle->pump_always_on = false;
  line.cycle->pump_off = 2.0;
  line.cycle->period = 1.0;
  CHECK(refused(line) == "[cycle]: period = 1000 ms is before pump-off = 2000 ms" + order);
  line = single_volume(10e3);
  line.cycle->period = 0.8;
  line.cycle->release = 0.79;
  line.cycle->valve_on = 0.0;
  line.elements[2].valve->closes = 50e-3;
  CHECK(
      refused(line) ==
      "[cycle]: valve 'valve' closes at 840 ms but is to open again for the next pick at 800 ms; give the period more "
      "time or release sooner.");
  line = single_volume(10e3);
  line.cycle->release = 50e-3;
  line.elements[2].valve->opens = 60e-3;
  line.elements[2].valve->closes = 10e-3;
  CHECK(refused(line) ==
        "[cycle]: valve 'valve' opens at 80 ms but is to close for this pick at 60 ms, before it has brought any "
        "vacuum; give valve-on sooner or release later.");
  line = single_volume(10e3);
  line.cycle->touch = line.cycle->place;
  CHECK(refused(line) == "[cycle]: place = 400 ms comes less than 0.001 ms after touch = 400 ms" + order);
  line = single_volume(10e3);
  line.cycle->heads.push_back({"nozle", 0.1, {}});
  CHECK(refused(line) == "[[cycle.head]]: 'nozle' is not the name of a nozzle of this line.");
  line = single_volume(10e3);
  line.cycle.reset();
  CHECK(refused(line) == "the file has no [cycle]; add one with touch and place, such as touch = \"40 ms\".");
  line = single_volume(10e3);
  line.part.reset();
  CHECK(refused(line) == "a cycle picks a part, but the file has no [part]; add one with mass and gap.");
}

TEST_CASE("without a valve the pump's stop lets go, in its order", "[study][cycle][property]") {
  line::Line line = single_volume(10e3);
  line.elements.erase(line.elements.begin() + 2);
  line.cycle->pump_always_on = false;
  line.cycle->pump_off = 0.6;
  CHECK(study::plan(line).heads.at(0).release == 0.6);
  line.cycle->pump_off = 0.9;
  CHECK(
      refused(line) ==
      "[cycle]: retract = 800 ms is before pump-off = 900 ms; a pick goes touch, lift, travel, place, retract, with "
      "valve-on before the lift and release after it, and without a release a nozzle that hangs on no valve is let go "
      "by pump-off.");
  // Left open, the end of the cycle comes after all that the file gives, and is no slip of the file.
  line.cycle->retract.reset();
  CHECK(refused(line) == "(accepted)");
  CHECK(study::plan(line).period > 0.9);
  line.cycle->release = 0.4;
  CHECK(study::plan(line).heads.at(0).release == 0.4);
}

TEST_CASE("vacuum that comes when the head is told to let go lifts nothing", "[study][cycle][property]") {
  line::Line line = single_volume(15e3);
  line.cycle->release = 0.1;
  line.elements[2].valve->closes = 0.5;  // long after the place
  const HeadCycle early = study::cycle(line, quick()).heads.at(0);
  REQUIRE(early.safe_lift);
  CHECK(early.works());
  line.cycle->release = *early.safe_lift - 1e-3;
  const HeadCycle late = study::cycle(line, quick()).heads.at(0);
  CHECK_FALSE(late.safe_lift);
  CHECK_FALSE(late.works());
}

TEST_CASE("a valve may open after the touch and be told to let go before the place", "[study][cycle][property]") {
  line::Line line = single_volume(10e3);
  line.cycle->valve_on = 60e-3;  // 50 ms after the touch
  line.cycle->lift = 0.2;
  line.cycle->release = 0.39;  // 10 ms before the place, for a valve that takes as long
  line.elements[2].valve->closes = 10e-3;
  CHECK(refused(line) == "(accepted)");
  const HeadCycle head = study::cycle(line, quick()).heads.at(0);
  REQUIRE(head.safe_lift);
  CHECK(*head.safe_lift > 60e-3);
  CHECK(head.works());
}
