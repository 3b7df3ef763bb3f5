// A cycle is judged as it runs once the machine is in its stride, however long that takes.
#include "study/cycle_settle.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "line/topology.hpp"
#include "lines/lines.hpp"
#include "study/cycle_lines.hpp"
#include "study/cycle_run.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using study::CycleAnswer;
using study::HeadCycle;
using test::quick;

namespace {

/// The sorter, its pump worn to a share of its speed and its reservoir of another size [m3].
line::Line sorter(double speed, double volume) {
  line::Line line = test::scenario("two-spindle-sorter");
  for (line::Element& element : line.elements) {
    if (element.name == "pump") element.pump->speed = speed;
    if (element.name == "reservoir") element.volume = volume;
  }
  return line;
}

/// Least vacuum [Pa] of each head in its cycle `n`, followed from the first on, as it puts its part down.
std::vector<double> at_place(const line::Line& line, int n, const study::CycleOptions& options) {
  const study::Plan plan = study::plan(line, n);
  const study::CycleRun run = study::play(line, line::topology(line), plan, options);
  std::vector<double> vacuum;
  for (const study::HeadPlan& head : plan.heads)
    vacuum.push_back(run.ambient - run.trajectory.at(head.nozzle_index, plan.shown_from + head.place - 1e-9));
  return vacuum;
}

/// The same of the cycle that it comes to.
std::vector<double> at_place(const study::SettledRun& rest) {
  std::vector<double> vacuum;
  for (const study::HeadPlan& head : rest.plan.heads)
    vacuum.push_back(rest.run.ambient - rest.run.trajectory.at(head.nozzle_index, head.place - 1e-9));
  return vacuum;
}

}  // namespace

// What a reservoir holds is what the pump brings into it on balance: its size says how long that takes, not what it is.
TEST_CASE("what a line comes to hardly depends on the size of its reservoir", "[study][cycle][property]") {
  study::CycleOptions options = quick(solve::Thermal::wall);
  const CycleAnswer litre = study::cycle(sorter(0.03, 1e-3), options);
  REQUIRE(litre.settled);
  CHECK_FALSE(litre.works());
  for (const double volume : {10e-3, 50e-3}) {
    CAPTURE(volume);
    const CycleAnswer answer = study::cycle(sorter(0.03, volume), options);
    CAPTURE(answer.repeats, answer.drift);
    CHECK(answer.settled);
    CHECK(answer.carried);
    CHECK_FALSE(answer.works());
    for (std::size_t k = 0; k < 2; ++k) {
      CHECK_THAT(answer.heads[k].margin_at_lift, WithinAbs(litre.heads[k].margin_at_lift, 300.0));
      CHECK_THAT(answer.heads[k].margin_in_travel, WithinAbs(litre.heads[k].margin_in_travel, 300.0));
      CHECK_THAT(answer.widest[k].margin_in_travel, WithinAbs(litre.widest[k].margin_in_travel, 300.0));
    }
  }
}

TEST_CASE("a slow line comes to what hundreds of cycles, each followed, bring it to", "[study][cycle][property]") {
  for (const double litres : {0.12, 0.5}) {
    const line::Line line = sorter(0.1, 1e-3 * litres);
    for (const auto thermal : {solve::Thermal::isothermal, solve::Thermal::wall}) {
      const study::CycleOptions options = quick(thermal);
      const study::SettledRun rest = study::settle(line, line::topology(line), options);
      CAPTURE(litres, rest.plan.repeats, rest.drift);
      REQUIRE(rest.settled);
      CHECK(rest.plan.repeats <= 40);
      const std::vector<double> found = at_place(rest), followed = at_place(line, litres < 0.2 ? 100 : 300, options);
      for (std::size_t k = 0; k < 2; ++k) CHECK_THAT(found[k], WithinAbs(followed[k], 100.0));
    }
  }
}

TEST_CASE("a line that is soon in its stride is run three times and not carried ahead", "[study][cycle][property]") {
  const CycleAnswer answer = study::cycle(test::scenario("jewel-setter"), quick(solve::Thermal::wall));
  CHECK(answer.settled);
  CHECK_FALSE(answer.carried);
  CHECK(answer.repeats == 3);
}

TEST_CASE("a cycle that did not come to rest is not said to work", "[study][cycle][property]") {
  CycleAnswer answer = study::cycle(test::two_heads(0.15), quick());
  REQUIRE(answer.works());
  answer.settled = false;
  CHECK_FALSE(answer.works());
}
