#include "solve/isothermal.hpp"

#include <algorithm>
#include <cmath>

#include "errors.hpp"

namespace airtally::solve {

Isothermal::Isothermal(const Network& network)
    : network_(&network),
      least_(1e-3 * network.bounds().first),
      elimination_(static_cast<int>(network.nodes.size()), network.pairs()),
      evaluation_(network, elimination_),
      pressures_(network.nodes.size()),
      mass_(network.nodes.size()) {
  for (std::size_t i = 0; i < mass_.size(); ++i) mass_[i] = network.nodes[i].volume / network.air.rt;
}

void Isothermal::use(const Network& network) {
  network_ = &network;
  least_ = 1e-3 * network.bounds().first;
}

void Isothermal::evaluate(std::span<const double> x) {
  // Stages of a step may overshoot; a law needs a positive pressure, and the error control takes care of the rest.
  for (std::size_t i = 0; i < x.size(); ++i) pressures_.p[i] = std::max(x[i], least_);
  evaluation_.at(*network_, pressures_);
}

void Isothermal::rate(double, std::span<const double> x, std::span<double> f) {
  evaluate(x);
  std::copy(evaluation_.net.begin(), evaluation_.net.end(), f.begin());
}

void Isothermal::rate_and_factor(double t, std::span<const double> x, double shift, std::span<double> f) {
  rate(t, x, f);
  elimination_.clear();
  evaluation_.couple(*network_, elimination_);
  for (std::size_t i = 0; i < mass_.size(); ++i) elimination_.excess()[i] += shift * mass_[i];
  elimination_.factor();
}

void Isothermal::settle_massless(std::vector<double>& x) {
  if (std::none_of(mass_.begin(), mass_.end(), [](double m) { return m == 0.0; })) return;
  std::vector<double> f(x.size());
  const auto [low, high] = network_->bounds();
  double last = 0.0;
  for (int iteration = 0; iteration < 100; ++iteration) {
    // Nodes with volume are held by an endless storage; the others take Newton steps.
    rate_and_factor(0.0, x, 1e30, f);
    double worst = 0.0;
    for (std::size_t i = 0; i < f.size(); ++i)
      if (mass_[i] == 0.0) worst = std::max(worst, std::fabs(f[i]));
    if (worst <= 1e-15 * network_->free_flow() ||
        (iteration > 3 && worst <= 1e-9 * network_->free_flow() && worst >= last))
      return;
    last = worst;
    solve(f);
    for (std::size_t i = 0; i < f.size(); ++i) {
      if (mass_[i] > 0.0) continue;
      const double square = x[i] * x[i] + 2.0 * x[i] * f[i];
      x[i] = std::sqrt(std::clamp(square, low * low, high * high));
    }
  }
  throw NoConvergence("the places without volume found no balance at the start of the pull-down.");
}

}  // namespace airtally::solve
