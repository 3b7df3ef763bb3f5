#include "solve/thermal.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "solve/path_flow.hpp"

namespace airtally::solve {
namespace {

constexpr double prandtl = 0.71;  ///< of air near room temperature; Incropera, Table A.4

/// Whether the second path is the next piece of the tube of which the first is one.
bool in_one_tube(const Path& first, const Path& second) {
  return first.role == Role::restriction && second.role == Role::restriction && first.b == second.a &&
         std::holds_alternative<laws::Duct>(first.law);
}

/// The network's pairs, and those of nodes two pieces apart in one tube, which the carried temperature couples.
std::vector<std::pair<int, int>> coupled(const Network& network) {
  std::vector<std::pair<int, int>> pairs = network.pairs();
  for (const std::vector<int>& paths : network.paths_of)
    for (std::size_t k = 1; k < paths.size(); ++k) {
      const Path &first = network.paths[paths[k - 1]], &second = network.paths[paths[k]];
      if (in_one_tube(first, second) && first.a != second.b) pairs.emplace_back(first.a, second.b);
    }
  return pairs;
}

}  // namespace

ThermalLine::ThermalLine(Network network, double exchange)
    : LineSystem(std::move(network)),
      n_(network_.nodes.size()),
      elimination_(std::make_shared<Ordering>(static_cast<int>(n_), coupled(network_))),
      neighbours_(network_.paths.size()),
      air_(n_, network_.air),
      p_(n_),
      tau_(n_),
      wall_(n_),
      last_(network_.paths.size()),
      bounce_(network_.paths.size()),
      drops_(network_.paths.size(), 0.0),
      mass_(2 * n_ + 2),
      gained_mass_(2 * n_),
      gained_energy_(2 * n_) {
  double whole = 0.0;
  for (const Node& node : network_.nodes) whole += node.volume;
  const double least = 1e-6 * whole / static_cast<double>(n_);
  const double conductivity_over_cp = network_.air.viscosity / prandtl;  // k/cp = mu/Pr
  double held = 0.0;
  for (std::size_t i = 0; i < n_; ++i) {
    const double storage = std::max(network_.nodes[i].volume, least) / network_.air.rt;
    mass_[2 * i] = storage / gas::gamma;
    mass_[2 * i + 1] = storage;
    held += storage;
    wall_[i] = exchange * network_.nodes[i].exchange * conductivity_over_cp;
  }
  mass_[2 * n_] = mass_[2 * n_ + 1] = held;
  find_neighbours();
}

void ThermalLine::find_neighbours() {
  const Ordering& ordering = elimination_.ordering();
  for (std::size_t k = 0; k < network_.paths.size(); ++k) {
    const Path& path = network_.paths[k];
    const int a = path.role == Role::restriction && path.a == outside ? network_.node_of[path.element] : path.a;
    if (a != outside && path.b != outside && a != path.b) neighbours_[k].ends = ordering.slot(a, path.b);
  }
  for (const std::vector<int>& paths : network_.paths_of)
    for (std::size_t k = 1; k < paths.size(); ++k) {
      const Path &first = network_.paths[paths[k - 1]], &second = network_.paths[paths[k]];
      if (!in_one_tube(first, second)) continue;
      neighbours_[paths[k - 1]].piece = neighbours_[paths[k]].piece = true;
      if (first.a == second.b) continue;  // a ring of two pieces
      const Ordering::Slot across = ordering.slot(first.a, second.b);
      // From first.a through the node between them and on to second.b, and the other way.
      Neighbours &one = neighbours_[paths[k - 1]], &two = neighbours_[paths[k]];
      two.before_a = first.a;
      two.slots_a = {one.ends.from_first, across.from_first};
      one.before_b = second.b;
      one.slots_b = {across.from_second, two.ends.from_second};
    }
}

std::vector<double> ThermalLine::state(const Pressures& pressures) const {
  std::vector<double> x(2 * n_ + 2, 0.0);
  for (std::size_t i = 0; i < n_; ++i) x[2 * i] = x[2 * i + 1] = pressures.p[i];
  return x;
}

double ThermalLine::temperature(std::span<const double> x, int node) const {
  return network_.air.temperature * x[2 * static_cast<std::size_t>(node)] / x[2 * static_cast<std::size_t>(node) + 1];
}

void ThermalLine::rate(double t, std::span<const double> x, std::span<double> f) { evaluate(t, x, f, false); }

void ThermalLine::rate_and_factor(double t, std::span<const double> x, double shift, std::span<double> f) {
  elimination_.clear();
  std::fill(gained_mass_.begin(), gained_mass_.end(), 0.0);
  std::fill(gained_energy_.begin(), gained_energy_.end(), 0.0);
  evaluate(t, x, f, true);
  for (std::size_t i = 0; i < n_; ++i) {
    elimination_.diagonal()[i][0] += shift * mass_[2 * i];
    elimination_.diagonal()[i][3] += shift * mass_[2 * i + 1];
  }
  elimination_.factor();
  shift_ = shift;
}

void ThermalLine::solve(std::span<double> b) {
  elimination_.solve(b.first(2 * n_));
  double mass = b[2 * n_], energy = b[2 * n_ + 1];
  for (std::size_t u = 0; u < 2 * n_; ++u) {
    mass += gained_mass_[u] * b[u];
    energy += gained_energy_[u] * b[u];
  }
  const double held = shift_ * mass_[2 * n_];
  b[2 * n_] = mass / held;
  b[2 * n_ + 1] = energy / held;
}

void ThermalLine::accepted(double t, std::span<const double> x) {
  for (std::size_t k = 0; k < network_.paths.size(); ++k) {
    const Path& path = network_.paths[k];
    // A check valve never flows back.
    if (path.a != outside && path.b != outside && !std::holds_alternative<OneWay>(path.law))
      drops_[k] = x[2 * static_cast<std::size_t>(path.a)] - x[2 * static_cast<std::size_t>(path.b)];
  }
  bounce_.watch(drops_, std::fabs(t - accepted_at_));
  accepted_at_ = t;
}

LineSystem::Account ThermalLine::content(std::span<const double> x) const {
  Account account;
  for (std::size_t i = 0; i < n_; ++i) {
    account.energy += mass_[2 * i] * x[2 * i];
    account.mass += mass_[2 * i + 1] * x[2 * i + 1];
  }
  return account;
}

LineSystem::Account ThermalLine::brought_in(std::span<const double> x) const {
  return {mass_[2 * n_] * x[2 * n_], mass_[2 * n_] * x[2 * n_ + 1]};
}

}  // namespace airtally::solve
