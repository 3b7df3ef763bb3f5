#include "hunt/logs/shut_off.hpp"

#include <catch2/catch.hpp>

#include "hunt/beliefs/unknowns.hpp"
#include "hunt/fit/shut_leak.hpp"
#include "hunt/logs/decay.hpp"
#include "line/variant.hpp"
#include "solve/answer.hpp"
#include "solve/integrate.hpp"
#include "solve/line_system.hpp"
#include "support/lines.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;

namespace {

/// Pump, hose and what shuts, then a bowl and the tip; everything leaks and holds something of its own.
line::Line with_shut_off(line::Kind kind) {
  support::Builder build;
  build.pump("pump", {{0.0, 8.0}, {70e3, 0.0}}, 6e-6).leak(support::rated(0.01));
  build.tube("hose", 4e-3, 0.8).leak(support::rated(0.05));
  if (kind == line::Kind::check_valve) build.check_valve("shut", 0.05, 500.0).volume(4e-6).leak(support::rated(0.03));
  if (kind == line::Kind::valve) build.valve("shut", 0.05).volume(4e-6).leak(support::rated(0.03)).vent(0.05);
  build.reservoir("bowl", 5e-6).leak(support::rated(0.02));
  build.nozzle("nozzle", 0.8e-3, 8e-3, 2e-3);
  return build.part(1e-6, 20e-6).line;
}

/// How the solver has the vacuum at the bowl decay from 65 kPa once `shut` has shut with the tip blocked. What lies on
/// the pump's side has the room's pressure by then.
line::Log solved_decay(line::Line line, std::size_t shut) {
  line::Element& closing = line.elements[shut];
  if (closing.valve) closing.valve->state = line::ValveState::closed;
  const line::Topology topology = line::topology(line);
  solve::Network network(line, topology, solve::all_tips(line, solve::TipState::blocked));
  for (solve::Source& source : network.sources) source.flow_factor = 0.0;
  solve::Pressures start(network.nodes.size(), network.ambient - 65e3);
  for (std::size_t i = 0; i < shut; ++i) start.p[static_cast<std::size_t>(network.node_of[i])] = network.ambient;
  const auto system = solve::line_system(network, solve::Thermal::isothermal);
  std::vector<double> state = system->state(start);
  system->settle_massless(0.0, state);
  const std::size_t bowl = system->pressure_index(network.node_of[*line::find(line, "bowl")]);
  line::Log log;
  log.file = "decay.csv";
  for (int row = 0; row < 60; ++row) {
    log.time.push_back(0.5 * row);
    log.vacuum.push_back(network.ambient - state[bowl]);
    solve::integrate(*system, state, log.time.back(), log.time.back() + 0.5, {1e-3, 1e-8}, {});
  }
  return log;
}

}  // namespace

// The fit takes a laminar leak, as all of these are, so only its own residue parts the two.
TEST_CASE("a leak read off the solver's own decay is what the line leaks into what was shut", "[hunt][agreement]") {
  struct Case {
    line::Kind kind;
    const char* shut;
    double leak;  // [L/min] of what stands on the tip's side
  };
  for (const Case& one : {Case{line::Kind::pump, "pump", 0.08}, Case{line::Kind::check_valve, "shut", 0.05},
                          Case{line::Kind::valve, "shut", 0.05}}) {
    const line::Line line = with_shut_off(one.kind);
    const std::size_t shut = *line::find(line, one.shut);
    CAPTURE(line.elements[shut].kind == line::Kind::valve, one.shut);
    const hunt::Decay decay = hunt::fit_decay(solved_decay(line, shut), line.site, 0.0);
    const double volume = hunt::shut_volume(line, shut);
    CHECK_THAT(hunt::leak_of(decay, units::Quantity(volume), line.site).median,
               WithinRel(support::free_litres(one.leak), 2e-3));

    const hunt::Suspects all = hunt::suspects(line, {});
    const hunt::ShutLeak leak(all, line::topology(all.line), {{}, 0.0, {solve::TipState::blocked}}, shut);
    double stated = 0.0;
    for (const std::size_t i : leak.inside())
      if (!line.elements[i].leaks.empty()) stated += all.leak_at_one[i];
    CHECK_THAT(stated, WithinRel(support::free_litres(one.leak), 1e-6));
    // Neither a shut vent nor the gap under a part that isn't there lets anything in.
    CHECK(leak.at(std::vector<double>(all.unknowns.size(), 0.0)) == 0.0);
  }
}

TEST_CASE("a clamp leaves what it is put on to the pump", "[hunt][property]") {
  const line::Line line = with_shut_off(line::Kind::valve);
  const std::size_t bowl = *line::find(line, "bowl");
  // Beyond the bowl there is the nozzle's bore alone.
  CHECK_THAT(hunt::shut_volume(line, bowl), WithinRel(line::bore_volume(line.elements[bowl + 1]), 1e-9));
}
