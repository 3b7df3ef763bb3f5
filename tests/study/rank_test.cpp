// The fair share of the loss and the gains, against other ways to find them.
#include "study/rank.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <numeric>

#include "line/seat.hpp"
#include "line/variant.hpp"
#include "lines/lines.hpp"
#include "study/coalition.hpp"
#include "study/rise.hpp"
#include "support/lines.hpp"
#include "support/random_line.hpp"

using namespace airtally;
using namespace airtally::study;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using solve::TipState;
using support::Builder;

namespace {

RankOptions quick() {
  RankOptions options;
  options.settle_gains = false;
  return options;
}

/// Filter and valve, each leaking: four players. With no bores beside them no minor loss depends on a neighbour, so a
/// line mended in the file is exactly what the ranking's coalition is.
Builder four_players() {
  Builder b;
  b.pump("pump", {{0, 8}, {75e3, 0}})
      .filter("filter", 5, 4e3)
      .leak(support::rated(0.8))
      .valve("valve", 0.15)
      .leak(support::hole(0.3e-3))
      .nozzle("nozzle", 0.8e-3, 6e-3, 2e-3);
  return b;
}

const ElementCost& cost_of(const Ranking& ranking, std::size_t element) {
  return *std::find_if(ranking.elements.begin(), ranking.elements.end(),
                       [&](const ElementCost& c) { return c.element == element; });
}

/// Made without a restriction in the file, its two ends one place, and solved by another way than the ranking's.
void bore_out(line::Element& e) {
  e.volume = units::Quantity(e.volume.value + line::bore_volume(e));
  e.restriction = std::monostate{};
}

double tip_vacuum(const line::Line& line, TipState state) {
  return solve::steady(line, solve::all_tips(line, state)).tips[0].tip_vacuum();
}

}  // namespace

TEST_CASE("fair shares by all orders of four players", "[study][agreement]") {
  const line::Line line = four_players().line;
  // Player 2 e: the leak of element e + 1, 2 e + 1: its restriction. Every line made in the file and solved on its own.
  const auto worth = [&](unsigned mended) {
    line::Line better = line;
    for (unsigned player = 0; player < 4; ++player) {
      line::Element& e = better.elements[1 + player / 2];
      if (!(mended & (1u << player))) continue;
      if (player % 2 == 0)
        line::seal(e);
      else
        bore_out(e);
    }
    return tip_vacuum(better, TipState::open);
  };
  std::array<unsigned, 4> order{0, 1, 2, 3};
  std::array<double, 4> share{};
  do {
    unsigned mended = 15;  // all are mended; one flaw after the other comes back
    for (const unsigned player : order) {
      const unsigned with = mended & ~(1u << player);
      share[player] += (worth(mended) - worth(with)) / 24.0;
      mended = with;
    }
  } while (std::next_permutation(order.begin(), order.end()));

  const Ranking ranking = rank(line, solve::all_tips(line, TipState::open), quick());
  CHECK(ranking.exact);
  CHECK(ranking.players == 4);
  for (std::size_t e = 0; e < 2; ++e)
    CHECK_THAT(cost_of(ranking, 1 + e).fair_share, WithinAbs(share[2 * e] + share[2 * e + 1], 1e-4));
  CHECK_THAT(ranking.ideal_vacuum, WithinAbs(worth(15), 1e-4));
  CHECK_THAT(ranking.tip_vacuum, WithinAbs(worth(0), 1e-6));
}

TEST_CASE("gains are those of the mended file", "[study][property]") {
  const line::Line line = four_players().line;
  const Ranking ranking = rank(line, solve::all_tips(line, TipState::open), quick());
  for (const std::size_t i : {std::size_t{1}, std::size_t{2}}) {
    line::Line sealed = line, bored = line;
    line::seal(sealed.elements[i]);
    bore_out(bored.elements[i]);
    CAPTURE(i);
    CHECK_THAT(cost_of(ranking, i).leak_gain, WithinAbs(tip_vacuum(sealed, TipState::open) - ranking.tip_vacuum, 1e-4));
    CHECK_THAT(cost_of(ranking, i).restriction_gain,
               WithinAbs(tip_vacuum(bored, TipState::open) - ranking.tip_vacuum, 1e-4));
  }
  // Leaks of a line with bores as well; sealing changes no minor loss.
  const line::Line setter = support::jewel_setter();
  const Ranking of_setter = rank(setter, solve::all_tips(setter, TipState::part), quick());
  for (const ElementCost& cost : of_setter.elements) {
    line::Line sealed = setter;
    line::seal(sealed.elements[cost.element]);
    CHECK_THAT(cost.leak_gain, WithinAbs(tip_vacuum(sealed, TipState::part) - of_setter.tip_vacuum, 1e-4));
  }
}

TEST_CASE("fair shares add up to the loss", "[study][property]") {
  for (const support::Named& named : support::all_lines())
    for (const TipState state : {TipState::open, TipState::part}) {
      RankOptions options = quick();
      options.orders = 60;
      const Ranking ranking = rank(named.line, solve::all_tips(named.line, state), options);
      CAPTURE(named.name, static_cast<int>(state), ranking.players);
      double sum = 0.0, leak_share = 0.0, leaks = 0.0;
      for (const ElementCost& cost : ranking.elements) {
        sum += cost.fair_share;
        leak_share += cost.leak_share;
        leaks += cost.leak;
      }
      CHECK_THAT(sum, WithinAbs(ranking.total_loss, 1e-9 * named.line.site.pressure));
      if (leaks > 0.0) CHECK_THAT(leak_share, WithinAbs(1.0, 1e-12));
      CHECK(ranking.exact == (ranking.players <= exact_players));
      CHECK(ranking.notes.empty() == ranking.exact);
      for (std::size_t i = 1; i < ranking.elements.size(); ++i)
        CHECK(ranking.elements[i - 1].fair_share >= ranking.elements[i].fair_share);
    }
}

TEST_CASE("how many players are solved exactly is told as it was asked for, and has an end", "[study][property]") {
  RankOptions options = quick();
  options.exact = 3;
  options.orders = 60;
  const line::Line line = four_players().line;
  const Ranking sampled = rank(line, solve::all_tips(line, TipState::open), options);
  REQUIRE(sampled.players == 4);
  REQUIRE(sampled.notes.size() == 1);
  CHECK(sampled.notes.front() ==
        "4 leaks and restrictions share the loss, more than the 3 whose every combination is solved; the fair shares "
        "come from 60 random orders (seed 1).");
  Builder b;
  b.pump("pump", {{0, 8}, {75e3, 0}});
  for (std::size_t i = 0; i <= most_exact; ++i) b.valve("valve " + std::to_string(i), 0.15);
  b.nozzle("nozzle", 0.8e-3, 6e-3, 2e-3);
  options.exact = most_exact + 5;
  CHECK_THROWS_WITH(rank(b.line, solve::all_tips(b.line, TipState::open), options),
                    "Exact shares of 25 flaws are asked for; 24 are the most.");
}

TEST_CASE("the orders that are told are those that were gone through", "[study][property]") {
  // Two hoses before an open nozzle: nearly every order says the same, and the sampling ends early.
  Builder b;
  b.pump("pump", {{0, 10}, {80e3, 0}}).tube("hose", 6e-3, 0.1).tube("other", 6e-3, 0.1);
  b.nozzle("nozzle", 0.3e-3, 3e-3, 2e-3);
  RankOptions options = quick();
  options.exact = 1;
  const Ranking ranking = rank(b.line, solve::all_tips(b.line, TipState::open), options);
  REQUIRE(ranking.notes.size() == 1);
  CHECK(ranking.solves < 300);
  CHECK(ranking.notes.front().find(" come from 32 random orders (seed 1).") != std::string::npos);
}

TEST_CASE("sampled shares lie within four standard errors of the exact ones", "[study][agreement]") {
  const line::Line line = support::jewel_setter();
  const line::Topology topology = line::topology(line);
  const solve::Network network(line, topology, solve::all_tips(line, TipState::part));
  Coalitions exact_solves(network, topology, flaws_of(line, network, 0), 0);
  const FairShares exact = exact_shares(exact_solves);
  const std::size_t n = exact.share.size();
  REQUIRE(n >= 8);
  CHECK(exact_solves.solves() == std::size_t{1} << n);
  Coalitions sampled_solves(network, topology, flaws_of(line, network, 0), 0);
  const FairShares sampled = sampled_shares(sampled_solves, 2000, 7);
  CHECK_FALSE(sampled.exact);
  const double total = std::accumulate(exact.share.begin(), exact.share.end(), 0.0);
  CHECK_THAT(std::accumulate(sampled.share.begin(), sampled.share.end(), 0.0), WithinRel(total, 1e-9));
  for (std::size_t f = 0; f < n; ++f) {
    CAPTURE(f, exact.share[f], sampled.share[f], sampled.error[f]);
    CHECK(std::fabs(sampled.share[f] - exact.share[f]) <= 4.0 * sampled.error[f] + 1e-6);
    CHECK(sampled.error[f] <= 0.02 * total);
  }
  // No more orders than the shares need: a ten-thousandth of the loss.
  const bool settled =
      std::all_of(sampled.error.begin(), sampled.error.end(), [&](double e) { return e <= 1e-4 * total; });
  CHECK((settled || sampled_solves.solves() == 1 + 2000 * n));
  Builder alone;
  alone.pump("pump", {{0, 10}, {80e3, 0}}).tube("hose", 2e-3, 5.0).nozzle("nozzle", 1e-3, 3e-3, 2e-3);
  const line::Topology single = line::topology(alone.line);
  const solve::Network open(alone.line, single, solve::all_tips(alone.line, TipState::open));
  Coalitions one(open, single, flaws_of(alone.line, open, 0), 0);
  const FairShares sure = sampled_shares(one, 2000, 7);  // one flaw: every order says the same
  CHECK(one.solves() <= 1 + 32 * sure.share.size());
  CHECK(sure.orders == 32);
  CHECK(exact.orders == 0);
  CHECK(sampled_solves.solves() == 1 + sampled.orders * n);
  // The same seed, the same numbers.
  Coalitions again(network, topology, flaws_of(line, network, 0), 0);
  CHECK(sampled_shares(again, 2000, 7).share == sampled.share);
}

TEST_CASE("a flaw that does nothing gets nothing, like flaws the same", "[study][property]") {
  // Shapley's axioms. Two equal filters in parallel branches to one place; a leak on a branch that a closed valve cuts
  // off.
  Builder b;
  b.pump("pump", {{0, 8}, {75e3, 0}})
      .tee("fork")
      .filter("left", 3, 5e3)
      .filter("right", 3, 5e3)
      .after("fork")
      .joins("left")
      .nozzle("nozzle", 0.8e-3, 6e-3, 2e-3)
      .after("left")
      .valve("shut", 0.2, 0.35, line::ValveState::closed)
      .after("fork")
      .filter("beyond", 3, 5e3)
      .leak(support::rated(0.5))
      .plug("end");
  const Ranking ranking = rank(b.line, solve::all_tips(b.line, TipState::open), quick());
  CHECK_THAT(cost_of(ranking, 2).fair_share, WithinAbs(cost_of(ranking, 3).fair_share, 1e-3));
  CHECK(cost_of(ranking, 2).fair_share > 1.0);
  CHECK_THAT(cost_of(ranking, *line::find(b.line, "beyond")).fair_share, WithinAbs(0.0, 1e-3));
}

TEST_CASE("settle gains are those of the mended line", "[study][property]") {
  const line::Line line = four_players().line;
  const auto tips = solve::all_tips(line, TipState::open);
  RankOptions options;
  options.objective = Objective::settle;
  const Ranking ranking = rank(line, tips, options);
  CHECK(ranking.settle > 0.0);
  line::Line better = line;
  line::seal(better.elements[2]);
  auto& valve = std::get<line::Iso>(better.elements[2].restriction);
  valve.conductance = 1e4 * valve.conductance.value;
  const double level = 0.95 * ranking.tip_vacuum;
  const Timing now = timing(line, tips, 0, level, 1), then = timing(better, tips, 0, level, 1);
  CHECK_THAT(cost_of(ranking, 2).settle_gain, WithinAbs(now.settle - then.settle, 1e-3 * now.settle));
  CHECK_THAT(cost_of(ranking, 2).reach_gain, WithinAbs(*now.reach - *then.reach, 1e-3 * now.settle));
}

// A hose without a drop goes on holding its air, and its walls go on warming it: nothing settles later for it, and a
// way that is a thousand times as wide is as good as one without a drop.
TEST_CASE("a way without a drop is the limit of wide ones", "[study][property]") {
  RankOptions options;
  options.settle_gains = true;
  for (const char* name : {"wet-seed-arm", "two-spindle-sorter", "ejector-head"}) {
    const line::Line line = test::scenario(name);
    const auto tips = solve::usual_tips(line);
    const Ranking ranking = rank(line, tips, options);
    const double level = 0.95 * ranking.tip_vacuum, now = *timing(line, tips, ranking.nozzle, level, 2).reach;
    for (const ElementCost& cost : ranking.elements) {
      const line::Element& e = line.elements[cost.element];
      CAPTURE(name, e.name, cost.reach_gain);
      CHECK(cost.reach_gain > -1e-3 * now);
      if (e.kind != line::Kind::valve || !e.leaks.empty()) continue;
      line::Line wide = line;
      auto& path = std::get<line::Iso>(wide.elements[cost.element].restriction);
      path.conductance = 1e3 * path.conductance.value;
      const double sooner = now - *timing(wide, tips, ranking.nozzle, level, 2).reach;
      CHECK_THAT(cost.reach_gain, WithinAbs(sooner, 1e-3 * now));
    }
  }
}

// A wide gap under the part leaks whether its nozzle restricts or not: the gap is the part's.
TEST_CASE("a nozzle's restriction gone, the part's gap still leaks while the line is pulled down",
          "[study][property]") {
  Builder b;
  b.pump("pump", {{0, 10}, {80e3, 0}}).tube("hose", 3e-3, 0.5).volume(0.2e-3).nozzle("nozzle", 1e-3, 3e-3, 2e-3);
  b.part(1e-3, 15e-6);
  RankOptions options;
  options.objective = Objective::settle;
  const auto tips = solve::all_tips(b.line, TipState::part);
  const Ranking ranking = rank(b.line, tips, options);
  const double level = 0.95 * ranking.tip_vacuum, gain = cost_of(ranking, 2).reach_gain;
  const auto sooner = [&](const line::Line& other) {
    return *timing(b.line, tips, 0, level, 2).reach - *timing(other, tips, 0, level, 2).reach;
  };
  CHECK(ranking.settle > 0.1);
  // At least what a nozzle wins that is a hundredth as long and has no loss where the air enters; it still has one
  // where the air leaves.
  line::Line shorter = b.line;
  auto& bore = std::get<line::Bore>(shorter.elements[2].restriction);
  bore.length = 0.03e-3;
  bore.loss = -0.5;
  CHECK(gain > sooner(shorter));
  // And far less than with the gap gone.
  line::Line tight = b.line;
  tight.part->gap = 0.0;
  CHECK(gain < 0.25 * sooner(tight));
}

TEST_CASE("a valve that is shut before the tip is named with what the pump has", "[study][property]") {
  for (const auto state : {line::ValveState::closed, line::ValveState::vent}) {
    Builder b;
    b.pump("pump", {{0, 8}, {75e3, 0}}).filter("filter", 5, 4e3).leak(support::rated(0.1));
    b.valve("valve", 0.15, 0.35, state).vent(0.1).nozzle("nozzle", 0.8e-3, 6e-3, 2e-3);
    const Ranking ranking = rank(b.line, solve::all_tips(b.line, TipState::blocked), quick());
    CHECK(ranking.shut == 2U);
    CHECK(ranking.ideal_vacuum < 0.01 * ranking.source_vacuum);
    CHECK(ranking.source_vacuum > 50e3);
  }
  CHECK_FALSE(rank(four_players().line, solve::all_tips(four_players().line, TipState::open), quick()).shut);
}

TEST_CASE("where the air comes in under the parts, rank says so", "[study][property]") {
  const auto line = [](double gap) {
    Builder b;
    b.pump("pump", {{0, 10}, {80e3, 0}}).tube("hose", 3e-3, 0.5).nozzle("nozzle", 0.6e-3, 5e-3, 1.2e-3).part(1e-3, gap);
    return b.line;
  };
  const auto ranked = [](const line::Line& l) { return rank(l, solve::all_tips(l, TipState::part), quick()); };
  const Ranking wide = ranked(line(30e-6));
  REQUIRE(wide.at_parts);
  CHECK_FALSE(wide.at_parts->through);
  CHECK_THAT(wide.under_parts, WithinRel(wide.at_parts->flow, 1e-9));
  CHECK(wide.through_parts == 0.0);
  CHECK_THAT(wide.at_parts->sealed_vacuum, WithinRel(tip_vacuum(line(30e-6), TipState::blocked), 1e-9));
  CHECK_THAT(wide.at_parts->flow, WithinRel(wide.at_parts->all, 1e-6));  // nothing else leaks
  CHECK_FALSE(ranked(line(2e-6)).at_parts);
  // Six hundredths of the tip's vacuum are worth the word where no element would win as much.
  const Ranking little = ranked(line(20e-6));
  REQUIRE(little.at_parts);
  CHECK(little.at_parts->sealed_vacuum < 1.1 * little.tip_vacuum);
}

TEST_CASE("what the tip has at the widest gap is what hold judges by", "[study][property]") {
  Builder b;
  b.pump("pump", {{0, 10}, {80e3, 0}}).tube("hose", 3e-3, 0.5).nozzle("nozzle", 0.6e-3, 5e-3, 1.2e-3).part(1e-3, 5e-6);
  const auto ranked = [&] { return rank(b.line, solve::all_tips(b.line, TipState::part), quick()); };
  CHECK(ranked().least_vacuum == ranked().tip_vacuum);
  b.line.part->gap = units::Quantity::uniform(5e-6, 20e-6);
  REQUIRE(ranked().least_vacuum);
  CHECK_THAT(*ranked().least_vacuum, WithinRel(tip_vacuum(line::at_widest_gap(b.line), TipState::part), 1e-9));
  CHECK_FALSE(rank(b.line, solve::all_tips(b.line, TipState::open), quick()).least_vacuum);
}

// Whatever the gap, a smaller one keeps none of it out.
TEST_CASE("where the air comes in through porous parts, rank does not ask for a smaller gap", "[study][property]") {
  for (const double gap : {0.0, 2e-6}) {
    Builder b;
    b.pump("pump", {{0, 10}, {80e3, 0}}).tube("hose", 3e-3, 0.5).nozzle("nozzle", 3e-3, 5e-3, 6e-3);
    b.part(1e-3, gap, 5.0);
    const Ranking ranking = rank(b.line, solve::all_tips(b.line, TipState::part), quick());
    CAPTURE(gap);
    REQUIRE(ranking.at_parts);
    CHECK(ranking.at_parts->through);
    CHECK_THAT(ranking.under_parts + ranking.through_parts, WithinRel(ranking.at_parts->flow, 1e-9));
    CHECK((ranking.under_parts > 0.0) == (gap > 0.0));
  }
}
