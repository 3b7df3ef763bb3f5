#include "solve/ripple.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "read/line_file.hpp"
#include "solve/steady.hpp"

using namespace airtally;
using namespace airtally::solve;
using Catch::Matchers::WithinRel;

// One volume behind one resistance: a low pass of the first order, |p/p0| = h/sqrt(1 + (f/fc)^2) with
// fc = g/(2 pi C), g = dm/dp at the volume, C = V/(gamma R T), and h what passes at rest. Textbook (RC low pass), from
// memory.
TEST_CASE("a capillary and a volume pass a pump's ripple as a low pass of the first order does",
          "[solve][closed-form]") {
  const line::Line line = read::read_line_text(R"(format = 1
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa", "2 L/min"], ["70 kPa", "0 L/min"]]
[[element]]
name = "capillary"
kind = "tube"
bore = "0.4 mm"
length = "0.1 m"
[[element]]
name = "bottle"
kind = "reservoir"
volume = "200 mL"
leak = { rated = "20 mL/min", at = "60 kPa" }
[[element]]
name = "nozzle"
kind = "nozzle"
bore = "2 mm"
length = "2 mm"
)",
                                               "ripple.toml");
  const std::size_t bottle = *line::find(line, "bottle");
  const Network network(line, line::topology(line), std::vector{TipState::blocked});
  Steady solver(network);
  Pressures x;
  solver.solve(network, x);
  // At its own end the capillary gives less than it takes: it goes by p^2, and the leak helps.
  double driven = 0.0, held = 0.0, volume = 0.0;
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const laws::Flow& flow = solver.evaluation().flow[k];
    if (network.paths[k].element == *line::find(line, "capillary") && network.paths[k].role == Role::restriction) {
      driven = -flow.dm_dp2;
      held += flow.dm_dp1;
    }
    if (network.paths[k].role == Role::leak && network.paths[k].element == bottle) held -= flow.dm_dp2;
  }
  // All that lies behind the capillary; its own air is shared out to its ends and is nothing beside the bottle's.
  for (const Node& node : network.nodes) volume += node.volume;
  REQUIRE(driven > 0.0);
  const double corner = held * gas::gamma * network.air.rt / (2.0 * std::numbers::pi * volume);
  for (const double times : {0.1, 1.0, 10.0, 1000.0}) {
    const std::vector<double> shares = ripple_shares(network, solver.evaluation(), 0, times * corner);
    CAPTURE(times, corner);
    CHECK(shares[static_cast<std::size_t>(network.sources[0].node)] == 1.0);
    CHECK_THAT(shares[static_cast<std::size_t>(network.node_of[bottle])],
               WithinRel(driven / held / std::hypot(1.0, times), 0.01));
  }
}
