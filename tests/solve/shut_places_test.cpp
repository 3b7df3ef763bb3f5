// Places behind shut check valves: the pressure that a pull-down ends at, and a vanishing leak leads to.
#include "solve/shut_places.hpp"

#include <catch2/catch.hpp>

#include "solve/answer.hpp"
#include "solve/path_flow.hpp"
#include "study/rank.hpp"
#include "study/rise.hpp"
#include "study/strip.hpp"
#include "support/lines.hpp"
#include "support/slopes.hpp"

using namespace airtally;
using namespace airtally::solve;
using namespace airtally::support;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// A pump of 80 kPa, a check valve, a tank with a gauge, a hose, a nozzle; no leak.
Builder tight(double cracking) {
  Builder b;
  b.pump("pump", {{0, 10}, {80e3, 0}}).check_valve("check", 0.5, cracking);
  b.reservoir("tank", 50e-6).gauge().tube("hose", 3e-3, 1.0).nozzle("nozzle", 1e-3, 3e-3, 2e-3).part(0.5e-3, 0.0);
  return b;
}

line::Line leaking(double cracking, double litres) {
  Builder b = tight(cracking);
  b.line.elements[3].leaks.push_back(rated(litres));
  return b.line;
}

SteadyAnswer part_on(const line::Line& line) { return steady(line, all_tips(line, TipState::part)); }
double tank(const line::Line& line) { return part_on(line).elements[2].vacuum; }

}  // namespace

TEST_CASE("a tight line stops at the pump's vacuum less the cracking drop", "[solve][closed-form]") {
  for (const double cracking : {0.0, 1e3, 3.9e3, 5e3, 30e3}) {
    CAPTURE(cracking);
    const SteadyAnswer answer = part_on(tight(cracking).line);
    for (const std::size_t i : {2, 3, 4}) {
      CHECK_THAT(answer.elements[i].vacuum, WithinAbs(80e3 - cracking, 1e-6));
      CHECK(answer.elements[i].flow == 0.0);
    }
    CHECK_THAT(answer.elements[0].vacuum, WithinAbs(80e3, 1e-6));
  }
}

TEST_CASE("two check valves in a row take both their drops", "[solve][closed-form]") {
  Builder b;
  b.pump("pump", {{0, 10}, {80e3, 0}}).check_valve("one", 0.5, 5e3).tee("tee", 1e-6).check_valve("two", 0.3, 3e3);
  b.reservoir("tank", 50e-6).nozzle("nozzle", 1e-3, 3e-3, 2e-3).part(0.5e-3, 0.0);
  const SteadyAnswer answer = part_on(b.line);
  CHECK_THAT(answer.elements[2].vacuum, WithinAbs(75e3, 1e-6));
  CHECK_THAT(answer.elements[4].vacuum, WithinAbs(72e3, 1e-6));
}

TEST_CASE("a source that another shuts off sits at its own ultimate vacuum", "[solve][closed-form]") {
  for (const double porous : {0.0, 0.2}) {
    Builder b;
    b.pump("deep", {{0, 12}, {40e3, 6}, {85e3, 0}}).check_valve("check deep", 0.5, 1e3).reservoir("tank", 50e-6);
    b.nozzle("nozzle", 2e-3, 5e-3, 4e-3).part(0.5e-3, 0.0, porous);
    b.pump("shallow", {{0, 20}, {30e3, 9}, {60e3, 0}}).check_valve("check shallow", 0.5, 1e3).joins("tank");
    const SteadyAnswer answer = part_on(b.line);
    CAPTURE(porous);
    CHECK_THAT(answer.elements[4].vacuum, WithinAbs(60e3, 1e-6));
    CHECK(answer.elements[4].flow == 0.0);
    if (porous == 0.0) CHECK_THAT(answer.elements[2].vacuum, WithinAbs(84e3, 1e-6));
  }
}

// What a leak of 1e-3 of a millilitre a minute and less changes is less than the pump's slope times it.
TEST_CASE("a vanishing leak leads to the tight line", "[solve][property]") {
  for (const double cracking : {1e3, 5e3}) {
    const double limit = tank(tight(cracking).line);
    double before = 1e9;
    for (const double litres : {1e-4, 1e-6, 1e-8, 1e-10, 1e-12, 1e-14, 1e-16}) {
      CAPTURE(cracking, litres);
      const double off = limit - tank(leaking(cracking, litres));
      CHECK(off >= -1e-6);
      CHECK(off <= before + 1e-6);
      before = off;
    }
    CHECK(before < 1e-3);
  }
}

TEST_CASE("a solve from wherever it starts ends at the same", "[solve][property]") {
  const line::Line line = tight(5e3).line;
  const Network network(line, line::topology(line), all_tips(line, TipState::part));
  Steady solver(network);
  Pressures x;
  solver.solve(network, x);
  for (const double start : {network.ambient, 60e3, 27e3, 24e3, 21.325e3}) {
    Pressures y(network.nodes.size(), start);
    solver.resolve(network, y);
    for (std::size_t i = 0; i < x.p.size(); ++i) CHECK_THAT(y.p[i], WithinAbs(x.p[i], 1e-6));
  }
}

TEST_CASE("what a closed valve cuts off is at the room's pressure, wherever the solver starts", "[solve][regression]") {
  Builder b;
  b.pump("pump", {{0, 10}, {80e3, 0}}).nozzle("nozzle", 1e-3, 3e-3, 2e-3);
  b.valve("valve", 0.5, 0.35, line::ValveState::closed).after("pump");
  b.check_valve("check", 0.5, 5e3).tee("tee", 1e-6).plug("plug");
  const Network network(b.line, line::topology(b.line), all_tips(b.line, TipState::open));
  Steady solver(network);
  Pressures x;
  solver.solve(network, x);
  for (const double start : {network.ambient, 60e3, 27e3}) {
    CAPTURE(start);
    Pressures y(network.nodes.size(), start);
    solver.resolve(network, y);
    for (std::size_t i = 0; i < x.p.size(); ++i) CHECK_THAT(y.p[i], WithinAbs(x.p[i], 1e-6));
    for (const std::size_t element : {2, 3, 4})
      CHECK_THAT(y.p[network.node_of[element]], WithinAbs(network.ambient, 1e-6));
  }
}

TEST_CASE("what is beyond a shut valve moves what is before it", "[solve][property]") {
  const line::Line line = tight(5e3).line;
  const Network network(line, line::topology(line), all_tips(line, TipState::part));
  Steady solver(network);
  Pressures x;
  solver.solve(network, x);
  // A flow into the pump's inlet raises it by 1/slope, and the tank as much.
  std::vector<double> raised(network.nodes.size(), 0.0);
  raised[network.node_of[0]] = 1e-9;
  solver.factored(network).solve(raised);
  CHECK(raised[network.node_of[0]] > 0.0);
  CHECK_THAT(raised[network.node_of[2]], WithinRel(raised[network.node_of[0]], 1e-9));
}

TEST_CASE("a valve's drop is not laid to a leak that is none", "[study][regression]") {
  const line::Line line = leaking(5e3, 1e-7);
  const auto tips = all_tips(line, TipState::part);
  const study::Strip strip = study::strip(line, tips);
  CHECK(strip.culprit.value_or(1) == 1);
  for (const study::StripStep& step : strip.steps)
    if (step.cap != 1) CHECK(std::abs(step.change) < 1.0);
  study::RankOptions options;
  options.settle_gains = false;
  for (const study::ElementCost& cost : study::rank(line, tips, options).elements) {
    CAPTURE(cost.element);
    if (cost.element == 3) CHECK(std::abs(cost.leak_gain) < 1.0);
    CHECK_THAT(cost.fair_share, WithinAbs(cost.element == 1 ? 5e3 : 0.0, 1.0));
  }
}
