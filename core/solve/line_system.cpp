#include "solve/line_system.hpp"

#include <algorithm>
#include <cmath>

#include "solve/isothermal.hpp"
#include "solve/thermal.hpp"

namespace airtally::solve {
namespace {

/// Of what stands for a restriction that is gone at rest. There a drop has two doubles; in motion it has one, and what
/// that rounds away must be nothing beside the flow: its sign says whose temperature is carried. The drop that this
/// leaves is a hundredth of a pascal with all that the pump draws.
constexpr double loose = 1e-6;

}  // namespace

LineSystem::LineSystem(Network network)
    : network_(std::move(network)), short_(loose * Evaluation::short_conductance(network_)) {
  LineSystem::changed();
}

void LineSystem::changed() { least_ = 1e-3 * network_.bounds().first; }

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
    std::get<laws::FaceGap>(network_.paths[d.path].law).gap =
        std::clamp(d.least + d.speed * (d.touch - t), d.least, d.most);
}

std::unique_ptr<LineSystem> line_system(Network network, Thermal thermal) {
  if (thermal == Thermal::isothermal) return std::make_unique<Isothermal>(std::move(network));
  return std::make_unique<ThermalLine>(std::move(network), thermal == Thermal::wall ? 1.0 : 0.0);
}

}  // namespace airtally::solve
