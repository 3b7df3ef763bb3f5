#include "hunt/verdict/look_alikes.hpp"

#include <algorithm>
#include <numeric>

namespace airtally::hunt {
namespace {

constexpr double likely_enough = 0.03;  ///< an element less likely than that to be the worst is not in question

/// Mean cost of element j over the samples in which i is the worst.
double mean_cost(const Costs& costs, const std::vector<double>& weight, std::size_t i, std::size_t j) {
  double sum = 0.0, total = 0.0;
  for (std::size_t s = 0; s < costs.worst.size(); ++s) {
    if (costs.worst[s] != i) continue;
    sum += weight[s] * costs.gain[s][j];
    total += weight[s];
  }
  return total > 0.0 ? sum / total : 0.0;
}

}  // namespace

std::vector<std::vector<std::size_t>> look_alikes(const Costs& costs, const std::vector<double>& probability,
                                                  const std::vector<double>& weight) {
  std::vector<std::size_t> suspects;
  for (std::size_t i = 0; i < probability.size(); ++i)
    if (probability[i] >= likely_enough) suspects.push_back(i);
  std::stable_sort(suspects.begin(), suspects.end(),
                   [&](std::size_t a, std::size_t b) { return probability[a] > probability[b]; });
  std::vector<std::vector<std::size_t>> groups;
  std::vector<bool> placed(probability.size(), false);
  for (std::size_t first : suspects) {
    if (placed[first]) continue;
    std::vector<std::size_t> group{first};
    placed[first] = true;
    for (std::size_t g = 0; g < group.size(); ++g) {
      const std::size_t i = group[g];
      for (std::size_t j : suspects) {
        if (placed[j]) continue;
        if (mean_cost(costs, weight, i, j) >= 0.5 * mean_cost(costs, weight, j, j) ||
            mean_cost(costs, weight, j, i) >= 0.5 * mean_cost(costs, weight, i, i))
          continue;
        group.push_back(j);
        placed[j] = true;
      }
    }
    if (group.size() > 1) groups.push_back(std::move(group));
  }
  return groups;
}

}  // namespace airtally::hunt
