#include "hunt/next/by_chance.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "hunt/next/information.hpp"
#include "study/random.hpp"

namespace airtally::hunt {
namespace {

constexpr int deals = 4;

double entropy(std::span<const std::size_t> worst, std::span<const double> weight, std::size_t elements) {
  std::vector<double> share(elements, 0.0);
  for (std::size_t s = 0; s < worst.size(); ++s) share[worst[s]] += weight[s];
  double bits = 0.0;
  for (double p : share)
    if (p > 0.0) bits -= p * std::log2(p);
  return bits;
}

}  // namespace

double beyond_chance(std::span<const std::vector<double>> readings, std::span<const std::size_t> worst,
                     std::span<const double> weight, std::span<const double> noise, std::size_t elements, double bits) {
  study::Random random(1);
  std::vector<std::size_t> order(worst.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  double by_chance = 0.0;
  for (int deal = 0; deal < deals; ++deal) {
    for (std::size_t i = order.size(); i > 1; --i) std::swap(order[i - 1], order[random.below(i)]);
    std::vector<std::vector<double>> dealt;
    for (const std::vector<double>& reading : readings) {
      dealt.emplace_back();
      for (std::size_t s : order) dealt.back().push_back(reading[s]);
    }
    by_chance += information_of(dealt.front(), worst, weight, noise.front(), elements, false).bits / deals;
    if (dealt.size() > 1) by_chance += bits_beyond_first(dealt, worst, weight, noise, elements) / deals;
  }
  const double all = entropy(worst, weight, elements);
  return all > by_chance ? std::clamp(all * (bits - by_chance) / (all - by_chance), 0.0, bits) : 0.0;
}

}  // namespace airtally::hunt
