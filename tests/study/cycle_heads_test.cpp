// Picks of several heads, switched pumps, periods, and what is said about them.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "lines/lines.hpp"
#include "study/cycle_lines.hpp"
#include "study/hold.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using study::CycleAnswer;
using study::HeadCycle;
using support::Builder;
using test::quick;
using test::single_volume;
using test::two_heads;
using test::vacuum_at;

TEST_CASE("from the safe lift on the vacuum stays above the need, and before it is not there",
          "[study][cycle][property]") {
  const line::Line line = two_heads(0.15);
  study::CycleOptions options = quick(solve::Thermal::wall);
  options.samples = 4001;
  const CycleAnswer answer = study::cycle(line, options);
  for (std::size_t k = 0; k < answer.heads.size(); ++k) {
    const HeadCycle& head = answer.heads[k];
    CAPTURE(k);
    REQUIRE(head.safe_lift);
    double least = 1e9;
    for (const auto& sample : answer.samples)
      if (sample.time >= *head.safe_lift && sample.time < head.place) {
        least = std::min(least, sample.vacuum[k]);
      }
    CHECK(least >= head.needed_to_lift - 1.0);
    if (*head.safe_lift > head.touch + 1e-3) CHECK(vacuum_at(answer, k, *head.safe_lift - 1e-3) < head.needed_to_lift);
  }
}

TEST_CASE("one head's open nozzle shows in the other's vacuum", "[study][cycle][property]") {
  const double delay = 0.2;
  line::Line line = two_heads(delay);
  line.cycle->lift = 0.18;
  study::CycleOptions options = quick(solve::Thermal::wall);
  options.samples = 4001;
  const CycleAnswer shared = study::cycle(line, options);
  line.elements[5].valve.reset();  // valve 2 is told nothing more: it stays shut
  line.elements[5].restriction = line::Iso{1e-14, 0.35};
  const CycleAnswer alone = study::cycle(line, options);
  // Valve 2 opens at delay + 10 ms; its nozzle meets its part at delay + 60 ms.
  const double open = delay + 0.03;
  CHECK(vacuum_at(shared, 0, delay - 1e-3) == Approx(vacuum_at(alone, 0, delay - 1e-3)).epsilon(1e-3));
  CHECK(vacuum_at(shared, 0, open) < vacuum_at(alone, 0, open) - 10e3);
  CHECK(shared.heads[0].margin_in_travel < alone.heads[0].margin_in_travel - 10e3);
  CHECK(shared.heads[0].worst_moment > delay + 0.01);
  CHECK(shared.heads[0].worst_moment < delay + 0.08);
}

TEST_CASE("a stopped pump keeps its vacuum behind a check valve, and loses it through its back-leak",
          "[study][cycle][property]") {
  const auto after_stop = [](bool check_valve, double back_leak) {
    Builder b;
    b.pump("pump", {{0.0, 8.0}, {71e3, 0.0}}, 6e-6);
    if (check_valve) b.check_valve("check valve", 0.9, 500.0);
    b.reservoir("store", 20e-6).gauge().nozzle("nozzle", 1e-3, 6e-3, 1.8e-3).part(20e-6, 0.0);
    b.line.elements[0].pump->back_leak = back_leak;
    b.line.cycle.emplace();
    line::Cycle& cycle = *b.line.cycle;
    cycle.touch = 50e-3;
    cycle.place = 0.9;
    cycle.pump_always_on = false;
    cycle.pump_off = 0.6;
    const CycleAnswer answer = study::cycle(b.line, quick());
    CHECK(answer.samples.front().vacuum.at(1) == 0.0);  // from a line full of air
    CHECK(answer.heads[0].release == 0.6);
    CHECK(answer.events.front().what == "starts");
    return std::pair(vacuum_at(answer, 1, 0.599), vacuum_at(answer, 1, 0.9));
  };
  const auto kept = after_stop(true, 0.2e-8), lost = after_stop(false, 0.2e-8), tight = after_stop(false, 1e-14);
  CHECK(kept.first > 30e3);
  CHECK_THAT(kept.second, WithinRel(kept.first, 1e-4));
  CHECK(lost.first > 30e3);
  CHECK(lost.second < 1e3);
  CHECK_THAT(tight.second, WithinRel(tight.first, 1e-3));
}

// Each piece between two events starts from what the line holds, so the balance is that of its worst piece.
TEST_CASE("mass and energy balance over a whole pick", "[study][cycle][property]") {
  for (const char* name : {"jewel-setter", "two-spindle-sorter", "ejector-head"}) {
    for (const auto thermal : {solve::Thermal::isothermal, solve::Thermal::adiabatic, solve::Thermal::wall}) {
      CAPTURE(name);
      const CycleAnswer answer = study::cycle(test::scenario(name), quick(thermal));
      CHECK(answer.worst_balance < 1e-8);
      CHECK(answer.pieces > 5);
    }
  }
}

TEST_CASE("names change nothing in a pick", "[study][cycle][property]") {
  const line::Line line = two_heads(0.15);
  line::Line renamed = line;
  for (std::size_t i = 0; i < renamed.elements.size(); ++i) {
    line::Element& e = renamed.elements[i];
    const auto other = [&](const std::string& name) {
      return name.empty() ? name : std::to_string(99 - *line::find(line, name)) + " x";
    };
    e.after = other(e.after);
    e.name = other(e.name);
  }
  renamed.cycle->heads[0].nozzle = std::to_string(99 - *line::find(line, "nozzle 2")) + " x";
  const CycleAnswer a = study::cycle(line), b = study::cycle(renamed);
  REQUIRE(a.heads.size() == b.heads.size());
  for (std::size_t k = 0; k < a.heads.size(); ++k) {
    CHECK(a.heads[k].safe_lift == b.heads[k].safe_lift);
    CHECK(a.heads[k].let_go == b.heads[k].let_go);
    CHECK(a.heads[k].margin_in_travel == b.heads[k].margin_in_travel);
  }
  REQUIRE(a.limits.size() == b.limits.size());
  for (std::size_t k = 0; k < a.limits.size(); ++k) CHECK(a.limits[k].gain == b.limits[k].gain);
}

TEST_CASE("with a period the cycle is run until it repeats itself", "[study][cycle][property]") {
  line::Line line = two_heads(0.15);
  line.cycle->period = 0.8;
  study::CycleOptions options = quick();
  options.samples = 9501;  // one every 0.1 ms, so that a period later there is one too
  const CycleAnswer answer = study::cycle(line, options);
  CHECK(answer.repeats == 3);
  CHECK(answer.drift < 1.0);
  // What is shown goes on past one period, until the delayed head is done: the first head has begun again, alike.
  REQUIRE(answer.end == Approx(0.95));
  for (const double t : {0.02, 0.05, 0.1, 0.14}) {
    CAPTURE(t);
    CHECK_THAT(vacuum_at(answer, 2, t + 0.8), WithinAbs(vacuum_at(answer, 2, t), 5.0));
  }
  // A litre on the small pump takes longer, and the answer says how often it was run.
  line.elements[1].volume = 1e-3;
  const CycleAnswer slow = study::cycle(line, options);
  CHECK(slow.repeats > 3);
  CHECK(slow.settled);
  for (const double t : {0.02, 0.05, 0.1, 0.14}) {
    CAPTURE(t);
    CHECK_THAT(vacuum_at(slow, 2, t + 0.8), WithinAbs(vacuum_at(slow, 2, t), 5.0));
  }
  CHECK(slow.notes.at(0).find("it was run " + std::to_string(slow.repeats) + " times") != std::string::npos);
}

TEST_CASE("the gains are what the changes win, the largest first", "[study][cycle][property]") {
  line::Line line = single_volume(15e3);
  line.elements[2].valve->opens = 8e-3;
  const CycleAnswer answer = study::cycle(line);
  REQUIRE(answer.limits.size() >= 2);
  for (std::size_t k = 1; k < answer.limits.size(); ++k) CHECK(answer.limits[k].gain <= answer.limits[k - 1].gain);
  const auto delay = std::find_if(answer.limits.begin(), answer.limits.end(),
                                  [](const auto& gain) { return gain.what == "without its delay"; });
  REQUIRE(delay != answer.limits.end());
  CHECK_THAT(delay->gain, WithinRel(8e-3, 1e-3));
  // A valve of a hundred times the conductance leaves next to nothing of the emptying itself.
  const auto wide = answer.limits.front();
  CHECK(line.elements[wide.element.value()].name == "valve");
  CHECK_THAT(wide.gain, WithinRel(*answer.heads[0].safe_lift - 28e-3, 0.1));
}

TEST_CASE("what is only sealed is not said to lose its restriction", "[study][cycle][property]") {
  line::Line line = single_volume(15e3);
  for (line::Element& element : line.elements) element.leaks.push_back(line::Hole{50e-6, 0.72});
  const CycleAnswer answer = study::cycle(line);
  const auto what = [&](const std::string& name) {
    std::string all;
    for (const auto& gain : answer.limits)
      if (line.elements[gain.element.value()].name == name) all += gain.what + ';';
    return all;
  };
  CHECK(what("nozzle") == "without its leak;");
  CHECK(what("chamber") == "without its leak;");
  CHECK(what("valve") == "without leak and restriction;");
  CHECK(what("pump") == "with twice the flow;");
}

TEST_CASE("what a person should know about letting go is said", "[study][cycle][property]") {
  line::Line line = single_volume(2e3);
  line.elements[2].valve->vent->blow_off = 20e3;
  const CycleAnswer blown = study::cycle(line, quick());
  CHECK_THAT(blown.heads[0].blow, WithinRel(20e3, 0.01));
  REQUIRE(blown.notes.size() == 1);
  CHECK(blown.notes[0].find("under the part of nozzle 'nozzle' the pressure rises 20 kPa above the room's, 10 times") ==
        0);
  // However hard it blows, no exponents.
  line.elements[2].valve->vent->blow_off = 2e6;
  const CycleAnswer hard = study::cycle(line, quick());
  REQUIRE(hard.notes.size() == 1);
  CHECK(hard.notes[0].find("the pressure rises 2000 kPa above the room's, 1000 times") != std::string::npos);
  CHECK(hard.notes[0].find("e+") == std::string::npos);
  line.elements[2].valve->vent.reset();
  const CycleAnswer stuck = study::cycle(line, quick());
  CHECK_FALSE(stuck.heads[0].let_go);
  REQUIRE(stuck.notes.size() == 1);
  CHECK(stuck.notes[0].find("valve 'valve' has no vent: once it is closed the part of nozzle 'nozzle' hangs on") == 0);
  const CycleAnswer ejector = study::cycle(test::scenario("ejector-head"), quick());
  // 26 L/min for 270 ms of every 600 ms.
  CHECK(ejector.notes.back() ==
        "ejector 'ejector' uses 0.117 L of free air a cycle, 11.7 L a minute as the cycle repeats");
}

// A back-leak lets go where nothing keeps it out; a check valve does, and an earlier stop then helps nothing.
TEST_CASE("behind a check valve it is told that no back-leak lets a part go", "[study][cycle][property]") {
  const auto notes = [](bool check) {
    support::Builder b;
    b.pump("pump", {{0.0, 20.0}, {80e3, 0.0}});
    b.line.elements[0].pump->back_leak = 1e-11;
    if (check) b.check_valve("check", 0.6, 500.0);
    b.tube("hose", 4e-3, 0.5).nozzle("nozzle", 1e-3, 1e-3, 1.8e-3).part(test::mass_for(2e3), 0.0);
    b.line.cycle.emplace();
    line::Cycle& cycle = *b.line.cycle;
    cycle.pump_always_on = false;
    cycle.touch = 50e-3;
    cycle.pump_off = 0.3;
    cycle.place = 0.4;
    cycle.retract = 0.5;
    std::string all;
    for (const std::string& note : study::cycle(b.line, quick()).notes) all += note + '\n';
    return all;
  };
  CHECK_THAT(notes(true), Catch::Contains("check valve 'check' keeps out the air that what stands still would let "
                                          "back; add a valve with a vent on the nozzle's side of it") &&
                              !Catch::Contains("stop it sooner"));
  CHECK_THAT(notes(false),
             Catch::Contains("only through its back-leak; stop it sooner") && !Catch::Contains("check valve"));
}

// At its widest gap the part leaks; what needs the vacuum of the middle gap then fails, as hold says.
TEST_CASE("a cycle is judged at the widest gap of its part too", "[study][cycle][property]") {
  line::Line line = test::two_heads(0.0);
  line.part->gap = units::Quantity::uniform(2e-6, 60e-6);
  const study::CycleAnswer middle = study::cycle(line, quick());
  REQUIRE(middle.widest.size() == 2);
  CHECK(middle.widest_gap == 60e-6);
  line::Line wide = line;
  wide.part->gap = 60e-6;
  const study::CycleAnswer apart = study::cycle(wide, quick());
  CHECK(apart.widest.empty());
  for (std::size_t k = 0; k < 2; ++k) {
    CHECK(middle.widest[k].margin_in_travel == apart.heads[k].margin_in_travel);
    CHECK(middle.widest[k].margin_in_travel < middle.heads[k].margin_in_travel);
  }
  // A part for which the middle gap will do and the widest will not.
  const study::TipHold tip = study::hold(line).tips.front();
  line.part->mass = line.part->mass.value * 0.5 * (tip.nominal.vacuum + tip.least.vacuum) / tip.needed_vacuum;
  const study::CycleAnswer torn = study::cycle(line, quick());
  CHECK(std::all_of(torn.heads.begin(), torn.heads.end(), [](const auto& head) { return head.works(); }));
  CHECK_FALSE(torn.works());
}

// Whole periods of delay change nothing once the machine is in its stride.
TEST_CASE("a delay of more than a period is the same pick", "[study][cycle][property]") {
  const auto at_delay = [](double delay) {
    line::Line line = two_heads(delay);
    line.cycle->lift = 0.18;
    line.cycle->period = 0.8;
    return study::cycle(line, quick());
  };
  const CycleAnswer near = at_delay(0.2);
  for (const double periods : {1.0, 2.0}) {
    const CycleAnswer far = at_delay(0.2 + periods * 0.8);
    CAPTURE(periods);
    for (std::size_t k = 0; k < near.heads.size(); ++k) {
      CHECK_THAT(far.heads[k].margin_in_travel, WithinAbs(near.heads[k].margin_in_travel, 100.0));
      CHECK_THAT(far.heads[k].margin_at_lift, WithinAbs(near.heads[k].margin_at_lift, 100.0));
    }
  }
}
