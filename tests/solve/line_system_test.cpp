// What moves during an integration: valves that open in their time and a nozzle that comes down.
#include "solve/line_system.hpp"

#include <catch2/catch.hpp>

#include "support/lines.hpp"

using namespace airtally;
using namespace airtally::solve;
using Catch::Matchers::WithinRel;

namespace {

/// A line whose nozzle is 2 mm above the part at 0.8 s and touches, at 0.1 mm, at 1 s; a leak opens from 2 s to 4 s.
struct Moving {
  std::unique_ptr<LineSystem> system;
  int closing = 0, leak = -1;

  Moving() {
    const line::Line line = support::all_lines().front().line;
    const std::size_t nozzle = line::all_of(line, line::Kind::nozzle).front();
    Network network(line, line::topology(line), std::vector{TipState::blocked});
    closing = static_cast<int>(network.paths.size());
    network.paths.push_back({outside, network.node_of[nozzle], network.ambient, laws::FaceGap{2e-3, 0.5e-3, 0.9e-3},
                             Role::vent, nozzle, Mode::active, Mode::active});
    for (std::size_t k = 0; k < network.paths.size(); ++k)
      if (network.paths[k].role == Role::leak) leak = static_cast<int>(k);
    system = line_system(std::move(network), Thermal::isothermal);
    system->descents.push_back({closing, 1.0, 9.5e-3, 0.1e-3, 2e-3});
    system->ramps.push_back({leak, 2.0, 4.0, 1.0, 5.0});
  }
  const Path& at(double t, int path) {
    std::vector<double> x = system->state(Pressures(system->network().nodes.size(), 90e3)), f(x.size());
    system->rate(t, x, f);
    return system->network().paths[static_cast<std::size_t>(path)];
  }
  double gap(double t) { return std::get<laws::FaceGap>(at(t, closing).law).gap; }
};

}  // namespace

TEST_CASE("a line moves from when its nozzle begins to come down until its valves stand", "[solve][property]") {
  const Moving line;
  CHECK_FALSE(line.system->moves(0.0, 0.79));
  CHECK(line.system->moves(0.0, 0.81));
  CHECK(line.system->moves(0.99, 1.5));
  CHECK_FALSE(line.system->moves(1.0, 2.0));
  CHECK(line.system->moves(1.5, 2.01));
  CHECK(line.system->moves(2.5, 2.6));
  CHECK_FALSE(line.system->moves(4.0, 9.0));
}

TEST_CASE("a nozzle comes down at its speed and stops at what is left of its gap", "[solve][closed-form]") {
  Moving line;
  CHECK(line.gap(0.5) == 2e-3);
  CHECK_THAT(line.gap(0.9), WithinRel(0.1e-3 + 9.5e-3 * 0.1, 1e-12));
  CHECK(line.gap(1.5) == 0.1e-3);
}

TEST_CASE("a valve's factor runs from one value to the other in its time", "[solve][closed-form]") {
  Moving line;
  REQUIRE(line.leak >= 0);
  CHECK(line.at(1.9, line.leak).scale == 1.0);
  CHECK_THAT(line.at(2.5, line.leak).scale, WithinRel(2.0, 1e-12));
  CHECK(line.at(5.0, line.leak).scale == 5.0);
}
