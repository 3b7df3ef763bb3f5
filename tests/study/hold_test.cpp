#include "study/hold.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "errors.hpp"
#include "gas/site.hpp"
#include "laws/holding.hpp"
#include "lines/lines.hpp"
#include "solve/answer.hpp"
#include "study/first_of.hpp"
#include "study/rank.hpp"
#include "support/lines.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using study::Hold;
using study::hold;
using study::TipHold;

namespace {

constexpr double litre = 1.185 / 60e3;  // kg/s in one litre of free air a minute
constexpr double area = std::numbers::pi * 0.25e-6;

/// A pump of 71 kPa, one hose, a 1 mm nozzle with a 1.8 mm rim; a part of 20 mg.
line::Line bench(double gap = 0.0) {
  line::Line line;
  line.title = "bench";
  line.file = "bench.toml";
  line::Element pump;
  pump.name = "pump";
  pump.kind = line::Kind::pump;
  pump.pump.emplace();
  pump.pump->flow = {{0.0, 8.0 * litre}, {30e3, 4.6 * litre}, {60e3, 1.1 * litre}, {71e3, 0.0}};
  line::Element hose;
  hose.name = "hose";
  hose.kind = line::Kind::tube;
  hose.restriction = line::Bore{2.5e-3, 0.5, 0.0, 0.0};
  line::Element nozzle;
  nozzle.name = "nozzle";
  nozzle.kind = line::Kind::nozzle;
  nozzle.restriction = line::Bore{1e-3, 6e-3, 0.0, 0.0};
  nozzle.rim = 1.8e-3;
  line.elements = {pump, hose, nozzle};
  line.part.emplace();
  line.part->name = "part";
  line.part->mass = 20e-6;
  line.part->gap = gap;
  line.part->length = line.part->width = 2e-3;
  line.part->height = 0.6e-3;
  return line;
}

line::Line brisk(double gap = 0.0) {
  line::Line line = bench(gap);
  line.move.emplace();
  line.move->lift = 3.0;
  line.move->travel = 5.0;
  line.move->spin_up = 100.0;
  line.move->offset = 0.1e-3;
  return line;
}

}  // namespace

TEST_CASE("a sealed part has the pump's ultimate vacuum to hold it", "[hold][closed-form]") {
  const Hold answer = hold(bench());
  REQUIRE(answer.tips.size() == 1);
  const TipHold& tip = answer.tips.front();
  // Nothing flows: the mouth is at the end of the pump's curve, 71 kPa. Solved to 1e-9 of the flow.
  CHECK_THAT(tip.nominal.vacuum, WithinRel(71e3, 1e-6));
  CHECK_THAT(tip.force, WithinRel(71e3 * area, 1e-6));
  CHECK_THAT(tip.needed_vacuum, WithinRel(2.0 * 20e-6 * 9.80665 / area, 1e-12));
  CHECK(tip.limit == study::Loss::lift);
  CHECK_THAT(tip.heaviest, WithinRel(71e3 * area / (2.0 * 9.80665), 1e-6));
  CHECK_THAT(tip.most_lift.value(), WithinRel(71e3 * area / (2.0 * 20e-6) - 9.80665, 1e-6));
  // Sideways by hand: friction on the 0.5..0.9 mm ring, F = 4 m (g + a/0.3).
  CHECK_THAT(tip.most_travel.value(), WithinRel(0.3 * (71e3 * area / (4.0 * 20e-6) - 9.80665), 1e-6));
  CHECK(answer.holds());
}

// Ratio of standard atmospheres at the same per cent vacuum: 0.887 at 1000 m, 0.785 at 2000 m (three printed digits; a
// handling guide's rounded saying: "100 kg become about 90 kg" at 1000 m).
TEST_CASE("altitude takes its share of the holding force", "[hold][literature]") {
  line::Line line = bench();
  const double low = hold(line).tips.front().force;
  line.site.pressure = gas::pressure_at_altitude(1000.0);
  CHECK_THAT(hold(line).tips.front().force / low, WithinAbs(0.887, 5e-4));
  CHECK_THAT(hold(line).tips.front().force / low, WithinRel(0.90, 0.02));
  line.site.pressure = gas::pressure_at_altitude(2000.0);
  CHECK_THAT(hold(line).tips.front().force / low, WithinAbs(0.785, 5e-4));
}

// A leak of 2 L/min at 60 kPa by the sea, on a pump of 10 L/min and 90 kPa: by hand, with the leak's k = m/(p1^2 -
// p2^2) from the sea, what it passes is what the pump takes at that height.
TEST_CASE("a rated leak stays as it is when the machine is carried up", "[hold][closed-form]") {
  support::Builder b;
  b.pump("pump", {{0, 10}, {90e3, 0}}).tee("tee").leak(support::rated(2.0)).nozzle("nozzle", 1e-3, 3e-3, 2e-3);
  b.part(1e-3, 0.0);
  const double k = 2.0 / (101325.0 * 101325.0 - 41325.0 * 41325.0);  // [L/(min Pa2)]
  for (const double height : {0.0, 1500.0, 4000.0, 8000.0}) {
    const double ambient = gas::pressure_at_altitude(height), thin = ambient / 101325.0;
    const double vacuum = hold(line::carried_to(b.line, ambient)).tips.front().least.vacuum, p = ambient - vacuum;
    CAPTURE(height, vacuum);
    const double pump = thin * 10.0 * (1.0 - vacuum / thin / 90e3);
    CHECK_THAT(k * (ambient * ambient - p * p), WithinRel(pump, 1e-6));
  }
  const auto kilopascals = [&](double height) {
    return 1e-3 * hold(line::carried_to(b.line, gas::pressure_at_altitude(height))).tips.front().least.vacuum;
  };
  CHECK_THAT(kilopascals(1500.0), WithinAbs(61.2, 0.05));
  CHECK_THAT(kilopascals(4000.0), WithinAbs(47.2, 0.05));
  // Carried on, it is still the leak of the first site; the part's porosity and an orifice as well.
  const double at_once = kilopascals(4000.0);
  b.line = line::carried_to(b.line, gas::pressure_at_altitude(1500.0));
  CHECK_THAT(kilopascals(4000.0), WithinAbs(at_once, 1e-9));
  b.line = line::Line{};
  b.pump("pump", {{0, 10}, {90e3, 0}}).nozzle("nozzle", 1e-3, 3e-3, 2e-3).leak(support::rated(1.0, true));
  b.part(1e-3, 0.0, 1.0);
  const double c =
      std::get<laws::Conductance>(
          solve::Network(b.line, line::topology(b.line), solve::all_tips(b.line, solve::TipState::part)).paths[1].law)
          .c;
  const line::Line high = line::carried_to(b.line, gas::pressure_at_altitude(5000.0));
  const solve::Network network(high, line::topology(high), solve::all_tips(high, solve::TipState::part));
  CHECK(std::get<laws::Conductance>(network.paths[1].law).c == c);
  CHECK_THAT(std::get<laws::Rated>(network.paths[2].law).k, WithinRel(0.5 * k * support::free_litres(1.0), 1e-12));
}

TEST_CASE("the limits that hold reports just hold", "[hold][property]") {
  const line::Line line = brisk(8e-6);
  const TipHold tip = hold(line).tips.front();
  REQUIRE(tip.holds());
  const auto margin = [&](auto change) {
    line::Line other = line;
    change(other);
    return hold(other).tips.front().margin / tip.least.vacuum;
  };
  // Each is the root of a straight line found to 1e-12; the vacuum is solved to 1e-9.
  CHECK_THAT(margin([&](line::Line& l) { l.part->mass = tip.heaviest; }), WithinAbs(0.0, 1e-6));
  CHECK_THAT(margin([&](line::Line& l) { l.move->lift = tip.most_lift.value(); }), WithinAbs(0.0, 1e-6));
  CHECK_THAT(margin([&](line::Line& l) { l.move->travel = tip.most_travel.value(); }), WithinAbs(0.0, 1e-6));
}

TEST_CASE("a gap with a tolerance is judged at its wide end", "[hold][property]") {
  line::Line line = brisk();
  line.part->gap = units::Quantity::normal(20e-6, 10e-6);
  const TipHold tip = hold(line).tips.front();
  CHECK_THAT(tip.least.gap, WithinRel(30e-6, 1e-14));
  CHECK_THAT(tip.most.gap, WithinRel(10e-6, 1e-14));
  CHECK(tip.least.vacuum < tip.nominal.vacuum);
  CHECK(tip.nominal.vacuum < tip.most.vacuum);
  CHECK_THAT(tip.margin, WithinRel(tip.least.vacuum - tip.needed_vacuum, 1e-12));
  CHECK_THAT(tip.least.vacuum, WithinRel(hold(brisk(30e-6)).tips.front().nominal.vacuum, 1e-12));
  line.part->gap = units::Quantity::normal(5e-6, 10e-6);  // a gap below nothing is a sealed part
  CHECK(hold(line).tips.front().most.gap == 0.0);
}

TEST_CASE("ranking by hold judges by the same gap as hold", "[hold][rank][property]") {
  line::Line line = brisk();
  line.part->gap = units::Quantity::normal(20e-6, 10e-6);
  study::RankOptions options;
  options.objective = study::Objective::hold;
  const study::Ranking ranking = study::rank(line, solve::usual_tips(line), options);
  const TipHold tip = hold(line).tips.front();
  CHECK_THAT(ranking.tip_vacuum, WithinRel(tip.least.vacuum, 1e-9));
  CHECK_THAT(*ranking.needed_vacuum, WithinRel(tip.needed_vacuum, 1e-12));
}

TEST_CASE("a tip asked to be open takes its air from the others and is not judged", "[hold][property]") {
  const line::Line line = test::scenario("two-spindle-sorter");
  using solve::TipState;
  const std::vector<TipState> tips{TipState::part, TipState::open};
  const Hold all = hold(line), one = hold(line, tips);
  REQUIRE(one.tips.size() == 2);
  CHECK_FALSE(one.tips[1].judged);
  CHECK(one.tips[1].state == TipState::open);
  CHECK(one.weakest == 0);
  CHECK(one.tips[0].least.vacuum < 0.9 * all.tips[0].least.vacuum);
  // And ranked so it is the same line.
  study::RankOptions by_hold;
  by_hold.objective = study::Objective::hold;
  by_hold.settle_gains = false;
  const study::Ranking ranking = study::rank(line, tips, by_hold);
  CHECK(ranking.nozzle == 0);
  CHECK_THAT(ranking.tip_vacuum, WithinRel(one.tips[0].least.vacuum, 1e-9));
  by_hold.nozzle = 1;
  CHECK_THROWS_WITH(study::rank(line, tips, by_hold),
                    Catch::Contains("'nozzle 2' is to have no part on, so there is nothing for it to hold."));
  line::Line wide = line;
  wide.part->gap = line.part->gap.high;
  CHECK_THAT(one.tips[0].least.vacuum, WithinRel(solve::steady(wide, tips).tips[0].mouth_vacuum, 1e-9));
  const std::vector<TipState> none{TipState::open, TipState::blocked};
  CHECK_THROWS_WITH(hold(line, none), Catch::Contains("nothing to hold"));
}

// Air that creeps in between plates falls with ln r: the force on the ring is that of a full vacuum on (1 - r^2)/(2 ln
// 1/r) of the whole rim, r the ratio of the radii. Integrated here ring by ring.
TEST_CASE("a rim said to seal that leaks is told what force is left", "[hold][closed-form]") {
  line::Line line = brisk(5e-6);
  line.move->seal = line::SealAt::rim;
  line.part->length = line.part->width = units::Quantity(20e-3);
  const line::Element& nozzle = line.elements.at(line::all_of(line, line::Kind::nozzle).front());
  const double inner = 0.5 * std::get<line::Bore>(nozzle.restriction).bore.value, outer = 0.5 * nozzle.rim->value;
  double force = inner * inner;
  constexpr int rings = 20000;
  for (int k = 0; k < rings; ++k) {
    const double r = inner + (outer - inner) * (k + 0.5) / rings;
    force += std::log(outer / r) / std::log(outer / inner) * 2.0 * r * (outer - inner) / rings;
  }
  const std::string share =
      std::to_string(static_cast<int>(std::lround(100.0 * force / (outer * outer)))) + " % of that";
  const Hold answer = hold(line);
  CHECK(std::any_of(answer.notes.begin(), answer.notes.end(),
                    [&](const std::string& note) { return note.find(share) != std::string::npos; }));
  line.part->gap = 0.0;
  for (const std::string& note : hold(line).notes) CHECK(note.find("creeps") == std::string::npos);
}

TEST_CASE("an offset part on a spindle that starts hard fails by sliding", "[hold][property]") {
  line::Line line = brisk();
  line.part->mass = 0.5e-3;
  const Hold answer = hold(line);
  CHECK(answer.tips.front().limit == study::Loss::slide);
  CHECK(word(answer.tips.front().limit) == "slide");
  CHECK_FALSE(answer.holds());
  // A tall part with much friction tips over before it slides.
  line.move->friction = 0.9;
  line.part->height = 20e-3;
  CHECK(hold(line).tips.front().limit == study::Loss::tilt);
}

TEST_CASE("one side of a part stands for both, whichever is given", "[hold][property]") {
  line::Line line = brisk();
  line.move->spin_up = 2000.0;
  const double both = study::needed_vacuum(line, 2).to_travel;
  line.part->width.reset();
  CHECK(study::needed_vacuum(line, 2).to_travel == both);
  std::swap(line.part->length, line.part->width);
  CHECK(study::needed_vacuum(line, 2).to_travel == both);
  line.part->width.reset();
  CHECK(study::needed_vacuum(line, 2).to_travel < 0.9 * both);
}

TEST_CASE("a part too heavy at rest has no acceleration that holds", "[hold][property]") {
  line::Line line = brisk();
  line.part->mass = 0.1;
  const TipHold tip = hold(line).tips.front();
  CHECK_FALSE(tip.holds());
  CHECK_FALSE(tip.most_lift);
  CHECK_FALSE(tip.most_travel);
}

// The safety sideways is asked for only where something moves sideways: between the two safeties a part is held at rest
// and lost at the least push.
TEST_CASE("a part between the safety upwards and that sideways bears no sideways move at all", "[hold][property]") {
  line::Line line = bench();
  line.part->mass = 71e3 * area / (3.0 * 9.81);
  const TipHold tip = hold(line).tips.front();
  CHECK(tip.holds());
  REQUIRE(tip.most_travel);
  CHECK_THAT(*tip.most_travel, WithinAbs(0.0, 1e-8));
}

TEST_CASE("a rim that seals holds by its area, and only a part that covers it", "[hold][closed-form]") {
  line::Line line = brisk();
  line.move->seal = line::SealAt::rim;
  CHECK_THAT(hold(line).tips.front().area, WithinRel(std::numbers::pi * 0.81e-6, 1e-12));
  CHECK(hold(line).holds());
  line.part->width = 1.2e-3;
  CHECK_FALSE(hold(line).holds());
  CHECK(hold(line).tips.front().seat == line::Seat::gaping);
  line.elements.back().rim.reset();
  line.move->where = {"bench.toml", 40, 1};
  CHECK_THROWS_WITH(
      hold(line),
      "bench.toml:40:1: [move]: seal = \"rim\" needs the outer diameter of the nozzle's mouth; give element "
      "'nozzle' a 'rim', or say seal = \"bore\".");
}

TEST_CASE("air through the part itself costs holding force", "[hold][property]") {
  line::Line line = brisk();
  const double dense = hold(line).tips.front().force;
  line.part->porosity = line::RatedLeak{0.5 * litre, 60e3, false};
  CHECK(hold(line).tips.front().force < 0.97 * dense);
}

TEST_CASE("hold says what it took for granted", "[hold][property]") {
  line::Line line = bench(4e-6);
  line.elements.back().rim.reset();
  const Hold answer = hold(line);
  // That no rim lets the gap be counted is a warning of its own (law_limits.hpp), beside every answer.
  REQUIRE(answer.notes.size() == 1);
  CHECK(answer.notes[0] == "no acceleration is given: the part is held at rest only");
  REQUIRE(answer.factors.size() == 3);
  CHECK(answer.factors[0].value == 2.0);
  CHECK(answer.factors[1].value == 4.0);
  CHECK_FALSE(answer.factors[1].stated);
  line.elements.pop_back();
  CHECK_THROWS_WITH(hold(line), "bench.toml: the line has no nozzle; add an element of kind \"nozzle\" at its end.");
  line = bench();
  line.part.reset();
  CHECK_THROWS_WITH(hold(line), "bench.toml: there is no part to hold; add a table [part] with its mass and gap.");
}

TEST_CASE("ranking by hold judges the nozzle with least to spare, by the same need", "[hold][rank][property]") {
  line::Line line = brisk(8e-6);
  // A fine second nozzle: as deep a vacuum, but a quarter of the area to use it on.
  line::Element fine = line.elements.back();
  fine.name = "fine nozzle";
  fine.after = "hose";
  fine.restriction = line::Bore{0.5e-3, 6e-3, 0.0, 0.0};
  line.elements.push_back(fine);
  const Hold answer = hold(line);
  REQUIRE(answer.weakest == 1);
  study::RankOptions by_hold;
  by_hold.objective = study::Objective::hold;
  by_hold.settle_gains = false;
  const study::Ranking ranking = study::rank(line, solve::all_tips(line, solve::TipState::open), by_hold);
  CHECK(ranking.nozzle == 1);
  CHECK(ranking.tip == solve::TipState::part);
  CHECK_THAT(ranking.needed_vacuum.value(), WithinRel(answer.tips[1].needed_vacuum, 1e-12));
  CHECK_THAT(ranking.tip_vacuum - *ranking.needed_vacuum, WithinRel(answer.tips[1].margin, 1e-6));
}

TEST_CASE("of tips that are alike the first is the weakest, whatever the last digits say", "[study]") {
  const std::vector<double> margin{3000.0 + 2e-9, 3000.0 - 4e-9, 3000.0, 3500.0};
  CHECK(study::first_least(
            margin, [](double m) { return m; }, study::pressure_tie) == 0);
  const std::vector<double> apart{3000.0, 2999.0, 2998.995};
  CHECK(study::first_least(
            apart, [](double m) { return m; }, study::pressure_tie) == 1);
}
