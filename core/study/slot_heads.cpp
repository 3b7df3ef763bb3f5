#include "study/slot_heads.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace airtally::study {
namespace {

constexpr double parabola = 54.0 / 35.0;  ///< kinetic energy of a parabolic profile between plates over the mean's
constexpr double entrance = 0.5;          ///< heads; a clearance's, whose air comes from rest
constexpr int most_rounds = 100;          ///< each halves the error at least: a head goes with the square of a flow

/// What a slot's head leaves of the flow [-] when its law passes `m` [kg/s] between two pressures [Pa].
double left(const SlotHead& head, double m, double p1, double p2, const gas::Air& air) {
  const double drop = std::fabs(p1 - p2), density = std::min(p1, p2) / air.rt;
  if (drop <= 0.0) return 1.0;
  return 1.0 - lost_to_inertia(head.heads * 0.5 * m * m / (density * head.area * head.area) / drop);
}

}  // namespace

std::optional<SlotHead> slot_head(const solve::Path& path) {
  if (const auto* gap = std::get_if<laws::Clearance>(&path.law))
    return SlotHead{std::numbers::pi * gap->diameter * gap->gap, parabola + entrance};
  if (const auto* face = std::get_if<laws::FaceGap>(&path.law))
    return SlotHead{2.0 * std::numbers::pi * face->inner * face->gap, parabola};
  return {};
}

double lost_to_inertia(double share) { return share > 0.0 ? 1.0 - 2.0 / (1.0 + std::sqrt(1.0 + 4.0 * share)) : 0.0; }

std::vector<double> less_at_drops(const solve::Network& network, const solve::Steady& solver,
                                  const solve::Pressures& x) {
  std::vector<double> less(network.paths.size(), 0.0);
  for (std::size_t k = 0; k < less.size(); ++k) {
    const solve::Path& path = network.paths[k];
    const auto pressure = [&](int node) { return node == solve::outside ? path.outside_pressure : x.p[node]; };
    if (const auto head = slot_head(path); head && path.mode == solve::Mode::active)
      less[k] = 1.0 - left(*head, solver.evaluation().flow[k].m, pressure(path.a), pressure(path.b), network.air);
  }
  return less;
}

WithHeads with_heads(const solve::Network& network, const solve::Steady& solver, const solve::Pressures& x) {
  solve::Network slowed = network;
  solve::Steady again(slowed);
  solve::Pressures y = x;
  std::vector<double> flow(network.paths.size()), share(network.paths.size(), 1.0);
  for (std::size_t k = 0; k < flow.size(); ++k) flow[k] = solver.evaluation().flow[k].m;
  const std::vector<double> before = flow;
  double change = 1.0;
  for (int round = 0; round < most_rounds && change > 1e-6; ++round) {
    change = 0.0;
    for (std::size_t k = 0; k < flow.size(); ++k) {
      solve::Path& path = slowed.paths[k];
      const auto head = slot_head(path);
      if (!head || path.mode != solve::Mode::active || path.scale <= 0.0) continue;
      const auto pressure = [&](int node) { return node == solve::outside ? path.outside_pressure : y.p[node]; };
      const double next = left(*head, flow[k] / share[k], pressure(path.a), pressure(path.b), network.air);
      change = std::max(change, std::fabs(next / share[k] - 1.0));
      share[k] = next;
      path.scale = network.paths[k].scale * next;
    }
    if (change <= 1e-6) break;
    again.resolve(slowed, y);
    for (std::size_t k = 0; k < flow.size(); ++k) flow[k] = again.evaluation().flow[k].m;
  }
  std::vector<double> less(flow.size(), 0.0);
  for (std::size_t k = 0; k < flow.size(); ++k)
    if (slot_head(network.paths[k]) && before[k] != 0.0) less[k] = std::clamp(1.0 - flow[k] / before[k], 0.0, 1.0);
  return {std::move(less), std::move(y)};
}

}  // namespace airtally::study
