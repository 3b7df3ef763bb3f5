#include "solve/bounce.hpp"

#include <catch2/catch.hpp>

#include "line/topology.hpp"
#include "study/rise.hpp"
#include "support/lines.hpp"
#include "support/slopes.hpp"

using namespace airtally;
using namespace airtally::support;
using solve::Bounce;
using solve::TipState;

namespace {

/// A pump without volume and a short wide nozzle, blocked, beside a check valve. A fuzzer threw it: 200,000 steps
/// brought it no further than a millisecond.
line::Line bouncing() {
  Builder builder;
  builder.pump("pump", {{0.0, 0.0508}, {10544.296264648438, 0.0}});
  builder.line.elements.back().pump->flow.front().value = 1.0047708925211844e-06;
  builder.check_valve("check", 0.056338581612707652, 0.0).after("pump");
  builder.nozzle("wide", 0.0027895534505137194, 0.018545747888773077, 0.0031204871168491063).after("check");
  builder.nozzle("thin", 0.0001378363868288742, 0.017363145105226629, 0.00022233287888943402).after("check");
  builder.nozzle("short", 0.0031465521567426301, 0.0001658314397759655, 0.0038424169216144653).after("pump");
  builder.nozzle("small", 0.00018138230103457404, 0.00084049172948952116, 0.00045627897588355686).after("check");
  builder.part(1e-5, 2.7972881238166745e-06, 1.0);
  builder.line.part->porosity->flow = 1.5233001421841802e-07;
  return builder.line;
}

}  // namespace

TEST_CASE("a drop that changes its sign in every step is eased, no other", "[solve][property]") {
  Bounce bounce(4);
  for (int step = 1; step <= Bounce::patience + 1; ++step) {
    CHECK(bounce.eased() == 0);
    const double way = step % 2 == 0 ? 1.0 : -1.0;
    // The second is too large, the third turns in every other step, the fourth is none.
    bounce.watch(std::vector<double>{0.1 * way, 2.0 * Bounce::reach * way, step % 4 < 2 ? 0.1 : -0.1, 0.0}, 1e-3);
  }
  CHECK(bounce.eased() == 1);
  CHECK(bounce.eases(0, 0.4));
  CHECK(bounce.eases(0, -0.4));
  CHECK_FALSE(bounce.eases(0, Bounce::reach));
  CHECK_FALSE(bounce.eases(1, 0.1));
}

TEST_CASE("an eased flow meets its law at the reach, with slopes that agree with differences", "[solve][property]") {
  const line::Line line = bouncing();
  const solve::Network network(line, line::topology(line), solve::all_tips(line, TipState::blocked));
  const auto element = *line::find(line, "short");
  const solve::Path* path = nullptr;
  for (const solve::Path& p : network.paths)
    if (p.element == element && p.role == solve::Role::restriction) path = &p;
  REQUIRE(path != nullptr);
  const auto eased = [&](double pa, double pb) {
    double guess = 0.0;
    return solve::eased_flow(*path, pa, pb, network.air, 1.0, guess);
  };
  constexpr double p = 95e3;
  for (const double way : {1.0, -1.0}) {
    double guess = 0.0;
    const double edge = way * Bounce::reach;
    const laws::Flow law = solve::path_flow(*path, solve::path_ends(*path, p + edge, p), network.air, 1.0, guess);
    CHECK(eased(p + edge, p).m == Approx(law.m).epsilon(1e-9));
    for (const double share : {0.05, 0.5, 0.9}) {
      const laws::Flow flow = eased(p + share * edge, p);
      CHECK(flow.m == Approx(share * law.m).epsilon(1e-9));
      CHECK(slope_agrees(
          flow.dm_dp1, [&](double h) { return eased(p + share * edge + h, p).m; }, 1.0, 0.0));
      // The law's own slopes at the mean pressure are a millionth of the rest and below what differences can tell.
      CHECK(slope_agrees(
          flow.dm_dp2, [&](double h) { return eased(p + share * edge, p + h).m; }, 1.0, 2e-5 * std::abs(flow.dm_dp2)));
    }
  }
}

TEST_CASE("a drop that stays next to nothing while steps crawl is eased", "[solve][property]") {
  Bounce bounce(3);
  bounce.watch(std::vector<double>{0.1, 0.1, 0.0}, 1e-3);
  for (int step = 1; step <= Bounce::crawl_patience; ++step) {
    CHECK(bounce.eased() == 0);
    // The second leaves what is next to nothing half way.
    const double second = step == Bounce::crawl_patience / 2 ? 2.0 * Bounce::reach : 0.1;
    bounce.watch(std::vector<double>{0.08, second, 0.0}, 1e-6);
  }
  CHECK(bounce.eased() == 1);
  CHECK(bounce.eases(0, 0.08));
}

TEST_CASE("a tiny place behind a wide path does not hold up the pull-down", "[solve][regression]") {
  const std::vector<TipState> tips{TipState::part, TipState::blocked, TipState::blocked, TipState::blocked};
  study::RiseOptions options;
  options.segments = 1;
  options.samples = 3;
  const study::Rise rise = study::rise(bouncing(), tips, options);
  CHECK(rise.steps < 400);
  CHECK(rise.worst_balance < 1e-7);
  const study::RiseSample& last = rise.samples.back();
  for (std::size_t i = 0; i < rise.tips.size(); ++i)
    CHECK(std::abs(last.vacuum[i] - rise.tips[i].final_vacuum) < 0.05 * rise.tips[i].final_vacuum);
}
