#include <catch2/catch.hpp>

#include "line/variant.hpp"
#include "solve/answer.hpp"
#include "study/rank.hpp"
#include "study/strip.hpp"
#include "support/lines.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using solve::TipState;

namespace {

/// Two branches behind a tee; the second one's joint leaks.
line::Line forked() {
  support::Builder b;
  b.pump("pump", {{0, 8}, {75e3, 0}}).tube("hose", 4e-3, 0.5).tee("fork").gauge();
  b.tube("arm 1", 2.5e-3, 0.4).nozzle("nozzle 1", 1e-3, 6e-3, 1.8e-3);
  b.tube("arm 2", 2.5e-3, 0.4).after("fork").tube("joint 2", 2e-3, 0.02, line::Kind::rotary);
  b.leak(support::clearance(30e-6, 5e-3, 4e-3, 0.5)).nozzle("nozzle 2", 1e-3, 6e-3, 1.8e-3);
  b.part(1e-5, 4e-6);
  return b.line;
}

}  // namespace

TEST_CASE("behind a fork the element that leaks is blamed and not the branch that comes back", "[study][strip]") {
  const line::Line line = forked();
  const study::Strip strip = study::strip(line, solve::all_tips(line, TipState::part));
  REQUIRE(strip.culprit.has_value());
  CHECK(line.elements[*strip.culprit].name == "joint 2");
  // A tight arm costs nothing, whatever the other branch does.
  const auto arm = line::find(line, "arm 1");
  for (const study::StripStep& step : strip.steps)
    if (step.cap == *arm) CHECK_THAT(step.change, WithinAbs(0.0, 1.0));
}

TEST_CASE("where the line forks each branch is off once, and the one that leaks costs most", "[study][strip]") {
  const line::Line line = forked();
  const std::vector<TipState> tips = solve::all_tips(line, TipState::part);
  const study::Strip strip = study::strip(line, tips);
  REQUIRE(strip.branches.size() == 2);
  CHECK(line.elements[strip.branches[0].off].name == "arm 1");
  CHECK(line.elements[strip.branches[1].off].name == "arm 2");
  const std::size_t fork = *line::find(line, "fork");
  const double whole = solve::steady(line, tips).elements[fork].vacuum;
  line::Line first = line;
  first.elements.resize(5);
  const double without_second = solve::steady(first, std::vector{TipState::part}).elements[fork].vacuum;
  REQUIRE(strip.whole.at(0).at == fork);
  CHECK_THAT(strip.whole[0].vacuum, WithinAbs(whole, 1e-6));
  CHECK_THAT(strip.branches[1].readings.at(0).vacuum, WithinAbs(without_second, 1e-6));
  CHECK_THAT(strip.branches[1].change, WithinAbs(without_second - whole, 1e-6));
  CHECK(strip.branches[1].change > 10.0 * strip.branches[0].change);
  CHECK(strip.branches[0].change > 0.0);

  const line::Line straight = support::jewel_setter();
  CHECK(study::strip(straight, solve::all_tips(straight, TipState::part)).branches.empty());
}

TEST_CASE("on a line without forks a step is compared with the step before", "[study][strip]") {
  const line::Line line = support::jewel_setter();
  const study::Strip strip = study::strip(line, solve::all_tips(line, TipState::part));
  for (std::size_t s = 1; s < strip.steps.size(); ++s) {
    CHECK(strip.steps[s].before == s - 1);
    REQUIRE(strip.steps[s].without.size() == strip.steps[s - 1].readings.size());
    for (std::size_t r = 0; r < strip.steps[s].without.size(); ++r)
      CHECK(strip.steps[s].without[r].vacuum == strip.steps[s - 1].readings[r].vacuum);
  }
}

TEST_CASE("a line without an element ends where the element started", "[line][strip]") {
  const line::Line line = forked();
  const line::Topology topology = line::topology(line);
  const line::Capped left = line::without(line, topology, *line::find(line, "arm 2"));
  CHECK(left.line.elements.size() == line.elements.size() - 3);
  CHECK_FALSE(line::find(left.line, "arm 2").has_value());
  CHECK_FALSE(line::find(left.line, "joint 2").has_value());
  CHECK(left.index[*line::find(line, "nozzle 1")] == *line::find(left.line, "nozzle 1"));
  // What is left is what the line would be without that branch.
  line::Line by_hand = line;
  by_hand.elements.resize(5);
  const auto a = solve::steady(left.line, solve::all_tips(left.line, TipState::part));
  const auto b = solve::steady(by_hand, solve::all_tips(by_hand, TipState::part));
  for (std::size_t i = 0; i < 5; ++i) CHECK_THAT(a.elements[i].vacuum, WithinAbs(b.elements[i].vacuum, 1e-6));
}

TEST_CASE("the bores of other nozzles are the load and bear no share of a tip's loss", "[study][rank]") {
  const line::Line line = forked();
  study::RankOptions options;
  options.settle_gains = false;
  options.nozzle = 0;
  const study::Ranking ranking = study::rank(line, solve::all_tips(line, TipState::part), options);
  double sum = 0.0;
  for (const study::ElementCost& cost : ranking.elements) {
    sum += cost.fair_share;
    if (line.elements[cost.element].name == "nozzle 2") CHECK(cost.fair_share == 0.0);
  }
  CHECK_THAT(sum, WithinAbs(ranking.total_loss, 1e-6));
}
