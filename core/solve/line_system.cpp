#include "solve/line_system.hpp"

#include <algorithm>
#include <cmath>

#include "solve/isothermal.hpp"
#include "solve/thermal.hpp"

namespace airtally::solve {
namespace {

/// Rounds the corners of check valves before which there is air: a volume, or the outside. In a dead end without volume
/// nothing but the corner itself has the pressure follow that beyond it, so there it stays.
void round_corners(Network& network) {
  std::vector<bool> held(network.nodes.size());
  for (std::size_t i = 0; i < held.size(); ++i) held[i] = network.nodes[i].volume > 0.0;
  for (bool more = true; more;) {
    more = false;
    for (const Path& path : network.paths) {
      if (std::holds_alternative<OneWay>(path.law) || path.mode == Mode::closed || path.scale <= 0.0) continue;
      const bool from_a = path.a == outside || held[path.a], from_b = path.b == outside || held[path.b];
      if (from_a == from_b) continue;
      held[from_a ? path.b : path.a] = more = true;
    }
  }
  for (Path& path : network.paths)
    if (auto* valve = std::get_if<OneWay>(&path.law))
      valve->rounded = path.a != outside && held[path.a] ? OneWay::in_motion : 0.0;
}

}  // namespace

LineSystem::LineSystem(Network network)
    : network_(std::move(network)), short_(Evaluation::short_conductance(network_)) {
  LineSystem::changed();
}

void LineSystem::changed() {
  least_ = 1e-3 * network_.bounds().first;
  round_corners(network_);
}

double closeness_for(double relative) { return std::clamp(1e-2 * std::sqrt(relative), laws::exactly, 1e-4); }

void LineSystem::needs(double relative) { close_ = closeness_for(relative); }

bool LineSystem::moves(double begin, double end) const {
  const auto overlaps = [&](double from, double to) { return from < end && begin < to; };
  return std::any_of(ramps.begin(), ramps.end(), [&](const Ramp& r) { return overlaps(r.begin, r.end); }) ||
         std::any_of(descents.begin(), descents.end(),
                     [&](const Descent& d) { return overlaps(d.touch - (d.most - d.least) / d.speed, d.touch); });
}

void LineSystem::drive(double t) {
  for (const Ramp& r : ramps) {
    const double share = r.end > r.begin ? std::clamp((t - r.begin) / (r.end - r.begin), 0.0, 1.0) : 1.0;
    network_.paths[r.path].scale = r.from + share * (r.to - r.from);
  }
  for (const Descent& d : descents)
    std::get<laws::ClosingGap>(network_.paths[d.path].law).gap =
        std::clamp(d.least + d.speed * (d.touch - t), d.least, d.most);
}

std::unique_ptr<LineSystem> line_system(Network network, Thermal thermal) {
  if (thermal == Thermal::isothermal) return std::make_unique<Isothermal>(std::move(network));
  return std::make_unique<ThermalLine>(std::move(network), thermal == Thermal::wall ? 1.0 : 0.0);
}

}  // namespace airtally::solve
