#include "laws/isotonic.hpp"

#include <cmath>

#include "laws/require.hpp"

namespace airtally::laws {

std::vector<double> never_rising(std::span<const double> y, std::span<const double> weight) {
  require(y.size() == weight.size(), "Each value needs a weight.");
  struct Pool {
    double mean, weight;
    std::size_t count;
  };
  std::vector<Pool> pools;
  pools.reserve(y.size());
  for (std::size_t i = 0; i < y.size(); ++i) {
    require(std::isfinite(y[i]) && weight[i] > 0.0 && std::isfinite(weight[i]),
            "Values must be finite and weights positive.");
    pools.push_back({y[i], weight[i], 1});
    while (pools.size() > 1 && (pools.end() - 2)->mean < pools.back().mean) {
      const Pool last = pools.back();
      pools.pop_back();
      Pool& before = pools.back();
      const double sum = before.weight + last.weight;
      before.mean = (before.mean * before.weight + last.mean * last.weight) / sum;
      before.weight = sum;
      before.count += last.count;
    }
  }
  std::vector<double> z;
  z.reserve(y.size());
  for (const Pool& pool : pools) z.insert(z.end(), pool.count, pool.mean);
  return z;
}

}  // namespace airtally::laws
