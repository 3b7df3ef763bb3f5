#pragma once
#include <span>
#include <vector>

#include "solve/network.hpp"
#include "solve/path_flow.hpp"

namespace airtally::support {

/// Inflow minus outflow of every node [kg/s] at pressures `p`, put together here from the network's paths and the law
/// functions alone: what the outside solvers work on.
inline void net_inflow(const solve::Network& network, std::span<const double> p, std::span<double> net) {
  for (double& value : net) value = 0.0;
  for (const solve::Path& path : network.paths) {
    if (path.mode != solve::Mode::active) continue;
    const double pa = path.a == solve::outside ? path.outside_pressure : p[path.a];
    const double pb = path.b == solve::outside ? path.outside_pressure : p[path.b];
    double guess = 0.0;
    const double m = solve::path_flow(path, solve::path_ends(path, pa, pb), network.air, 0.0, guess).m;
    if (path.a != solve::outside) net[path.a] -= m;
    if (path.b != solve::outside) net[path.b] += m;
  }
  for (const solve::Source& source : network.sources) net[source.node] -= source.at(p[source.node]).m;
}

}  // namespace airtally::support
