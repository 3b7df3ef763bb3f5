#include "study/standstill.hpp"

#include <algorithm>
#include <optional>

#include "laws/conductance.hpp"

namespace airtally::study {
namespace {

/// As of a bore of some 20 mm: more than any line here draws, so that the room's pressure stands behind it.
constexpr double open_port = 6e-7;  // m3/(s Pa)

/// Of a pump's head. A place without any, between a pump that lets nothing back and a check valve that is shut, would
/// have no pressure of its own to come to.
constexpr double dead_space = 1e-8;  // m3

}  // namespace

Standstill::Standstill(const line::Line& line, solve::Network& network, WayBack unstated) {
  for (const solve::Source& source : network.sources) {
    const std::optional<units::Quantity>& stated = line.elements[source.element].pump->back_leak;
    if (!stated && unstated == WayBack::shut) {
      double& volume = network.nodes[source.node].volume;
      volume = std::max(volume, dead_space);
      continue;
    }
    const laws::Conductance way{stated ? stated->value : open_port, line::Iso{}.critical_ratio.value};
    ways_back_.push_back(static_cast<int>(network.paths.size()));
    network.paths_of[source.element].push_back(ways_back_.back());
    network.paths.push_back({solve::outside, source.node, network.ambient, way, solve::Role::vent, source.element,
                             solve::Mode::closed, solve::Mode::closed});
  }
}

void Standstill::run(solve::Network& network, bool on) const {
  for (solve::Source& source : network.sources) source.flow_factor = on ? 1.0 : 0.0;
  for (const int path : ways_back_) network.paths[path].mode = on ? solve::Mode::closed : solve::Mode::active;
}

}  // namespace airtally::study
