#include "hunt/samples/weighted.hpp"

#include <algorithm>
#include <numeric>
#include <vector>

namespace airtally::hunt {

double weighted_quantile(std::span<const double> values, std::span<const double> weight, double share) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  const double wanted = share * std::accumulate(weight.begin(), weight.end(), 0.0);
  double sum = 0.0;
  for (std::size_t i : order)
    if ((sum += weight[i]) >= wanted) return values[i];
  return values[order.back()];
}

}  // namespace airtally::hunt
