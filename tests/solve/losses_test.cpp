// Minor losses between neighbouring bores.
#include "solve/losses.hpp"

#include <catch2/catch.hpp>

#include "solve/network.hpp"
#include "support/lines.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using solve::end_losses;
using solve::EndLosses;
using support::Builder;

namespace {

/// pump - wide (2 mm) - narrow (1 mm) - wide (2 mm) - nozzle: area ratio 0.25.
Builder steps() {
  Builder b;
  b.pump("pump", {{0, 1}, {80e3, 0}})
      .tube("first", 2e-3, 0.1)
      .tube("narrow", 1e-3, 0.1)
      .tube("last", 2e-3, 0.1)
      .nozzle("nozzle", 0.5e-3, 5e-3, 1e-3);
  return b;
}

EndLosses of(const line::Line& line, std::size_t i) { return end_losses(line, line::topology(line), i); }

}  // namespace

TEST_CASE("a step in the bore takes Borda-Carnot's loss", "[solve][literature]") {
  // White, Fluid Mechanics, minor losses (formula from memory): expansion (1 - s)^2, contraction 0.5 (1 - s) at s =
  // A1/A2 = 0.25: 0.5625 and 0.375, on the narrow bore's head.
  const EndLosses narrow = of(steps().line, 2);
  for (const auto& end : {narrow.tip, narrow.pump}) {
    CHECK_THAT(end.leaving, WithinAbs(0.5625, 1e-15));
    CHECK_THAT(end.entering, WithinAbs(0.375, 1e-15));
  }
  // The wide bores take none of it there; at the pump's volume the full 0.5 in and 1.0 out.
  const EndLosses first = of(steps().line, 1);
  CHECK(first.tip.leaving == 0.0);
  CHECK(first.tip.entering == 0.0);
  CHECK(first.pump.leaving == 1.0);
  CHECK(first.pump.entering == 0.5);
  // A nozzle's passage has its own entrance loss.
  const EndLosses last = of(steps().line, 3);
  CHECK(last.tip.leaving == 0.0);
  CHECK(last.tip.entering == 0.0);
}

TEST_CASE("anything else at the step makes the ends full", "[solve][property]") {
  const auto full = [](const line::Line& line) {
    const EndLosses narrow = of(line, 2);
    return narrow.pump.leaving == 1.0 && narrow.pump.entering == 0.5;
  };
  CHECK_FALSE(full(steps().line));
  Builder volume = steps();
  volume.line.elements[1].volume = 1e-6;
  CHECK(full(volume.line));
  Builder branch = steps();
  branch.tube("branch", 1e-3, 0.1).after("first");
  CHECK(full(branch.line));
  Builder merged = steps();
  merged.tube("merged", 1e-3, 0.1).after("pump").joins("first");
  CHECK(full(merged.line));
  Builder valve;
  valve.pump("pump", {{0, 1}, {80e3, 0}}).valve("valve", 0.1).tube("narrow", 1e-3, 0.1).nozzle("n", 1e-3, 1e-3, 2e-3);
  CHECK(full(valve.line));
}

TEST_CASE("bores of one width have no loss between them", "[solve][property]") {
  Builder b;
  b.pump("pump", {{0, 1}, {80e3, 0}}).tube("a", 2e-3, 0.1).tube("b", 2e-3, 0.1).nozzle("n", 1e-3, 1e-3, 2e-3);
  const EndLosses a = of(b.line, 1), second = of(b.line, 2);
  CHECK(a.tip.entering == 0.0);
  CHECK(a.tip.leaving == 0.0);
  CHECK(second.pump.entering == 0.0);
  CHECK(second.pump.leaving == 0.0);
}

TEST_CASE("the losses are laid on the ends of a cut tube", "[solve][property]") {
  Builder b = steps();
  std::get<line::Bore>(b.line.elements[2].restriction).loss = 0.8;
  const std::vector<solve::TipState> open{solve::TipState::open};
  const std::vector<int> segments{1, 1, 4, 1, 1};
  const solve::Network network(b.line, line::topology(b.line), open, segments);
  const auto& paths = network.paths_of[2];
  // Four pieces with a place in the middle of each: five ways, the first and the last half as long.
  REQUIRE(paths.size() == 5);
  double forward = 0.0, back = 0.0, length = 0.0;
  for (const int k : paths) {
    const auto& duct = std::get<laws::Duct>(network.paths[k].law);
    forward += duct.loss_forward;
    back += duct.loss_back;
    length += duct.length;
  }
  CHECK_THAT(length, WithinAbs(0.1, 1e-15));
  // Tip to pump: in at the tip-side step 0.375, out at the other 0.5625, and its own 0.8; the same the other way.
  CHECK_THAT(forward, WithinAbs(0.8 + 0.375 + 0.5625, 1e-14));
  CHECK_THAT(back, WithinAbs(0.8 + 0.375 + 0.5625, 1e-14));
  CHECK_THAT(std::get<laws::Duct>(network.paths[paths.front()].law).loss_forward, WithinAbs(0.1 + 0.375, 1e-14));
  CHECK_THAT(std::get<laws::Duct>(network.paths[paths.back()].law).loss_forward, WithinAbs(0.1 + 0.5625, 1e-14));
}
