#include "agreement/pull_down.hpp"

#include "study/segments.hpp"

namespace airtally::agreement {

Ours::Ours(const line::Line& l, solve::TipState state) : line(l) {
  study::RiseOptions options;
  options.relative = 1e-9;
  options.absolute = 1e-4;
  options.samples = 41;
  options.thermal = solve::Thermal::isothermal;
  const auto tips = solve::all_tips(line, state);
  rise = study::rise(line, tips, options);
  const line::Topology topology = line::topology(line);
  network = std::make_unique<solve::Network>(line, topology, tips, study::cut(line, rise.segments));
  for (const std::size_t i : network->nozzles)
    watched.push_back(network->node_of[state == solve::TipState::open ? topology.before[i] : i]);
}

}  // namespace airtally::agreement
