#include "solve/isothermal.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "errors.hpp"
#include "solve/lawful_private.hpp"

namespace airtally::solve {

Isothermal::Isothermal(Network network)
    : LineSystem(std::move(network)),
      elimination_(static_cast<int>(network_.nodes.size()), network_.pairs()),
      evaluation_(network_, elimination_),
      pressures_(network_.nodes.size()),
      mass_(network_.nodes.size() + 1, 0.0),
      gained_(network_.nodes.size(), 0.0) {
  for (std::size_t i = 0; i < network_.nodes.size(); ++i) mass_[i] = network_.nodes[i].volume / network_.air.rt;
  mass_.back() = std::accumulate(mass_.begin(), mass_.end() - 1, 0.0);
}

std::vector<double> Isothermal::state(const Pressures& pressures) const {
  std::vector<double> x = pressures.p;
  x.push_back(0.0);
  return x;
}

void Isothermal::rate(double t, std::span<const double> x, std::span<double> f) {
  drive(t);
  for (std::size_t i = 0; i < pressures_.p.size(); ++i) pressures_.p[i] = lawful(x[i], least_);
  evaluation_.at(network_, pressures_, close_);
  ++evaluations_;
  std::copy(evaluation_.net.begin(), evaluation_.net.end(), f.begin());
  double inflow = 0.0;
  for (std::size_t k = 0; k < network_.paths.size(); ++k) {
    const Path& path = network_.paths[k];
    if (path.a == outside) inflow += evaluation_.flow[k].m;
    if (path.b == outside) inflow -= evaluation_.flow[k].m;
  }
  for (const laws::PumpFlow& pull : evaluation_.pull) inflow -= pull.m;
  f.back() = inflow;
}

void Isothermal::rate_and_factor(double t, std::span<const double> x, double shift, std::span<double> f) {
  rate(t, x, f);
  elimination_.clear();
  evaluation_.couple(network_, elimination_);
  // Before the storage is added the excess of a node is what it loses to the outside per pascal.
  for (std::size_t i = 0; i < gained_.size(); ++i) {
    gained_[i] = -elimination_.excess()[i];
    elimination_.excess()[i] += shift * mass_[i];
  }
  elimination_.factor();
  shift_ = shift;
}

void Isothermal::solve(std::span<double> b) {
  elimination_.solve(b.first(gained_.size()));
  double sum = b.back();
  for (std::size_t i = 0; i < gained_.size(); ++i) sum += gained_[i] * b[i];
  b.back() = mass_.back() > 0.0 ? sum / (shift_ * mass_.back()) : 0.0;
}

void Isothermal::settle_massless(double t, std::vector<double>& x) {
  const std::size_t n = gained_.size();
  if (std::none_of(mass_.begin(), mass_.begin() + static_cast<std::ptrdiff_t>(n), [](double m) { return m == 0.0; }))
    return;
  std::vector<double> f(x.size());
  auto [low, high] = network_.bounds();
  // A state that was not come to by itself may hold pressures beyond those of pumps and rooms.
  for (std::size_t i = 0; i < n; ++i)
    if (mass_[i] > 0.0) {
      low = std::min(low, x[i]);
      high = std::max(high, x[i]);
    }
  const double least = 1e-15 * network_.free_flow();
  evaluation_.forget();
  close_ = laws::exactly;  // whoever integrates says anew what it needs
  double last = 0.0;
  for (int iteration = 0; iteration < 100; ++iteration) {
    rate(t, x, f);
    double worst = 0.0;
    for (std::size_t i = 0; i < n; ++i)
      if (mass_[i] == 0.0) worst = std::max(worst, std::fabs(f[i]));
    if (worst <= least || (iteration > 3 && worst <= 1e6 * least && worst >= last)) return;
    last = worst;
    // The steady solver's step for the places without volume; an endless storage holds the others.
    evaluation_.lead(network_, pressures_);
    elimination_.clear();
    evaluation_.couple(network_, elimination_);
    for (std::size_t i = 0; i < n; ++i)
      elimination_.excess()[i] += mass_[i] > 0.0 ? 1e30 * mass_[i] : 1e-10 * evaluation_.through[i] / x[i];
    elimination_.factor();
    std::vector<double> step = evaluation_.net;
    elimination_.solve(step);
    for (std::size_t i = 0; i < n; ++i)
      if (mass_[i] > 0.0) step[i] = 0.0;
    evaluation_.foretell(network_, step);
    for (std::size_t i = 0; i < n; ++i)
      if (mass_[i] == 0.0) x[i] = std::clamp(x[i] + step[i], low, high);
  }
  throw NoConvergence("the places without volume found no balance after a sudden change.");
}

LineSystem::Account Isothermal::content(std::span<const double> x) const {
  double sum = 0.0;
  for (std::size_t i = 0; i < gained_.size(); ++i) sum += mass_[i] * x[i];
  return {sum, 0.0};
}

LineSystem::Account Isothermal::brought_in(std::span<const double> x) const {
  return {mass_.back() * x[gained_.size()], 0.0};
}

}  // namespace airtally::solve
