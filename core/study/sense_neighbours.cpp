#include "study/sense_neighbours.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "study/sense_own_gap.hpp"

namespace airtally::study {
namespace {

/// A gap off the middle, and how much it weighs in a mean; the middle has what is left of 1.
struct Off {
  double by = 0.0,   // [m]
      weight = 0.0;  // [-]
};

/// The outer two of Gauss's three points, Legendre's for a range and Hermite's for a tolerance of two deviations: means
/// of a polynomial of the fifth degree are exact (Abramowitz and Stegun, tables 25.4 and 25.10, from memory).
std::array<Off, 2> points_of(const units::Quantity& gap) {
  const double half = 0.5 * (gap.high - gap.low);
  const bool normal = gap.spread == units::Spread::normal;
  const double by = normal ? std::sqrt(3.0) * 0.5 * half : std::sqrt(0.6) * half;
  const double weight = normal ? 1.0 / 6.0 : 5.0 / 18.0;
  return {Off{-by, weight}, Off{by, weight}};
}

/// Mean and variance over the gap [Pa, Pa2].
struct Effect {
  double mean = 0.0, variance = 0.0;
};

/// What the gap of all of `nozzles` together, the same on each, does to the vacuum at the end of every element; `x` is
/// the solution with them at the middle.
std::vector<Effect> effect_of(const std::vector<std::size_t>& nozzles, const units::Quantity& gap,
                              solve::Network network, const solve::Pressures& x) {
  std::vector<Effect> all(network.node_of.size());
  solve::Steady steady(network);
  for (const Off& off : points_of(gap)) {
    for (const std::size_t k : nozzles) set_gap(network, k, gap.value + off.by);
    solve::Pressures now = x;
    steady.resolve(network, now);
    for (std::size_t i = 0; i < all.size(); ++i) {
      const int node = network.node_of[i];
      const double moved = (x.p[node] - now.p[node]) + (x.low[node] - now.low[node]);
      all[i].mean += off.weight * moved;
      all[i].variance += off.weight * moved * moved;
    }
  }
  for (Effect& effect : all) effect.variance = std::max(effect.variance - effect.mean * effect.mean, 0.0);
  return all;
}

}  // namespace

Neighbours neighbours_of(const line::Line& line, const solve::Network& network, std::size_t nozzle,
                         const solve::Pressures& x) {
  const std::size_t elements = line.elements.size();
  Neighbours all{std::vector(elements, 0.0), std::vector(elements, 0.0), std::vector(elements, 0.0),
                 std::vector(elements, 0.0), std::vector(elements, 1.0)};
  const units::Quantity& gap = line.part->gap;
  if (gap.is_exact() || network.nozzles.size() < 2) return all;
  std::vector<std::size_t> others;
  for (std::size_t k = 0; k < network.nozzles.size(); ++k)
    if (k != nozzle) others.push_back(k);
  std::vector<double> squares(elements, 0.0);  // of the variances
  for (const std::size_t k : others) {
    const std::vector<Effect> own = effect_of({k}, gap, network, x);
    for (std::size_t i = 0; i < elements; ++i) {
      all.shift[i] += own[i].mean;
      all.spread[i] += own[i].variance;
      squares[i] += own[i].variance * own[i].variance;
      all.reach[i] += std::sqrt(3.0 * own[i].variance);  // a range's half width
    }
  }
  const std::vector<Effect> together = effect_of(others, gap, network, x);
  for (std::size_t i = 0; i < elements; ++i) {
    if (squares[i] > 0.0) all.count[i] = all.spread[i] * all.spread[i] / squares[i];
    all.spread[i] = std::sqrt(all.spread[i]);
    all.alike[i] = std::sqrt(together[i].variance);
  }
  return all;
}

}  // namespace airtally::study
