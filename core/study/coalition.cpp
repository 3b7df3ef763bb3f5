#include "study/coalition.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <numeric>

#include "errors.hpp"
#include "line/variant.hpp"
#include "study/random.hpp"

namespace airtally::study {

using solve::TipState;

std::vector<Flaw> flaws_of(const line::Line& line, const solve::Network& network, std::size_t nozzle) {
  std::vector<bool> load(line.elements.size(), false);
  for (std::size_t k = 0; k < network.nozzles.size(); ++k)
    load[network.nozzles[k]] = k != nozzle || network.tips[k] == TipState::open;
  std::vector<Flaw> flaws;
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    bool leaks = false, restricts = false;
    for (int k : network.paths_of[i]) {
      const solve::Path& path = network.paths[k];
      if (path.at_rest == solve::Mode::closed) continue;
      leaks = leaks || path.role == solve::Role::leak;
      restricts = restricts || path.role == solve::Role::restriction;
    }
    if (leaks) flaws.push_back({i, true});
    if (restricts && !load[i]) flaws.push_back({i, false});
  }
  return flaws;
}

Coalitions::Coalitions(const solve::Network& network, const line::Topology& topology, std::vector<Flaw> flaws,
                       std::size_t nozzle)
    : network_(network), flaws_(std::move(flaws)), state_(flaws_.size(), true), steady_(network) {
  const std::size_t i = network.nozzles[nozzle];
  node_ = network.node_of[network.tips[nozzle] == TipState::open ? topology.before[i] : i];
}

double Coalitions::vacuum(const std::vector<bool>& present) {
  for (std::size_t f = 0; f < flaws_.size(); ++f) {
    if (present[f] == state_[f]) continue;
    state_[f] = present[f];
    if (flaws_[f].leak)
      network_.set_leak(flaws_[f].element, present[f]);
    else
      network_.set_restriction(flaws_[f].element, present[f]);
  }
  if (started_)
    steady_.resolve(network_, x_);
  else
    steady_.solve(network_, x_);
  started_ = true;
  ++solves_;
  return (network_.ambient - x_.p[node_]) - x_.low[node_];
}

FairShares exact_shares(Coalitions& coalitions) {
  const std::size_t n = coalitions.flaws().size();
  if (n > most_exact)
    throw DomainError(fmt::format("Exact shares of {} flaws are asked for; {} are the most.", n, most_exact));
  const std::size_t count = std::size_t{1} << n;
  std::vector<double> vacuum(count);
  std::vector<bool> present(n, false);
  std::size_t code = 0;
  for (std::size_t step = 0; step < count; ++step) {
    if (step > 0) {
      const auto flipped = static_cast<std::size_t>(std::countr_zero(step));
      code ^= std::size_t{1} << flipped;
      present[flipped] = !present[flipped];
    }
    vacuum[code] = coalitions.vacuum(present);
  }
  // Weight of a coalition of s others: s! (n - 1 - s)! / n!.
  std::vector<double> weight(n);
  for (std::size_t s = 0; s < n; ++s)
    weight[s] = std::exp(std::lgamma(double(s) + 1) + std::lgamma(double(n - 1 - s) + 1) - std::lgamma(double(n) + 1));
  FairShares shares{std::vector<double>(n, 0.0), std::vector<double>(n, 0.0), true};
  for (std::size_t f = 0; f < n; ++f) {
    const std::size_t own = std::size_t{1} << f;
    for (std::size_t others = 0; others < count; ++others)
      if (!(others & own))
        shares.share[f] +=
            weight[static_cast<std::size_t>(std::popcount(others))] * (vacuum[others] - vacuum[others | own]);
  }
  return shares;
}

FairShares sampled_shares(Coalitions& coalitions, std::size_t orders, std::uint64_t seed) {
  constexpr std::size_t fewest = 16;  // pairs, before their scatter is believed
  constexpr double enough = 1e-4;     // standard error over the whole loss [-]
  const std::size_t n = coalitions.flaws().size();
  Random random(seed);
  std::vector<std::size_t> order(n);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::vector<double> sum(n, 0.0), squares(n, 0.0), pair(n);
  const std::size_t pairs = std::max<std::size_t>(orders / 2, 2);
  const double ideal = coalitions.vacuum(std::vector<bool>(n, false));
  FairShares shares{std::vector<double>(n), std::vector<double>(n), false};
  for (std::size_t k = 1; k <= pairs; ++k) {
    for (std::size_t i = n; i > 1; --i) std::swap(order[i - 1], order[random.below(i)]);
    std::fill(pair.begin(), pair.end(), 0.0);
    double loss = 0.0;
    for (int pass = 0; pass < 2; ++pass) {
      std::vector<bool> present(n, false);
      double before = ideal;
      for (std::size_t f : order) {
        present[f] = true;
        const double now = coalitions.vacuum(present);
        pair[f] += 0.5 * (before - now);
        before = now;
      }
      loss = ideal - before;
      std::reverse(order.begin(), order.end());
    }
    shares.orders = 2 * k;
    const auto count = static_cast<double>(k);
    double worst = 0.0;
    for (std::size_t f = 0; f < n; ++f) {
      sum[f] += pair[f];
      squares[f] += pair[f] * pair[f];
      shares.share[f] = sum[f] / count;
      const double spread = squares[f] / count - shares.share[f] * shares.share[f];
      shares.error[f] = k > 1 ? std::sqrt(std::max(0.0, spread) / (count - 1)) : 0.0;
      worst = std::max(worst, shares.error[f]);
    }
    if (k >= fewest && worst <= enough * std::abs(loss)) break;
  }
  return shares;
}

}  // namespace airtally::study
