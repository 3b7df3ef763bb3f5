#include "hunt/convergence.hpp"

#include <algorithm>
#include <cmath>

namespace airtally::hunt {
namespace {

struct Moments {
  double between = 0.0;  ///< variance of the means
  double within = 0.0;   ///< mean of the variances
};

Moments moments(const std::vector<std::vector<double>>& z, std::size_t k, std::size_t groups, std::size_t each) {
  std::vector<double> means;
  Moments result;
  for (std::size_t g = 0; g < groups; ++g) {
    double mean = 0.0, square = 0.0;
    for (std::size_t i = g * each; i < (g + 1) * each; ++i) mean += z[i][k] / static_cast<double>(each);
    for (std::size_t i = g * each; i < (g + 1) * each; ++i) square += (z[i][k] - mean) * (z[i][k] - mean);
    means.push_back(mean);
    result.within += square / static_cast<double>(each - 1) / static_cast<double>(groups);
  }
  double mean = 0.0;
  for (double m : means) mean += m / static_cast<double>(groups);
  for (double m : means) result.between += (m - mean) * (m - mean) / static_cast<double>(groups - 1);
  return result;
}

}  // namespace

Convergence convergence_of(const std::vector<std::vector<double>>& z, std::size_t populations) {
  Convergence result;
  result.effective = static_cast<double>(z.size());
  if (z.empty() || populations < 2) return result;
  const std::size_t each = z.size() / populations;
  if (each < 4) return result;
  double pooled = 0.0;
  const std::size_t unknowns = z.front().size();
  for (std::size_t k = 0; k < unknowns; ++k) {
    const std::size_t half = each / 2;
    // Halves of an odd population would overlap their neighbours; the whole populations serve then.
    const bool split = each % 2 == 0;
    const Moments halves = moments(z, k, split ? 2 * populations : populations, split ? half : each);
    const double length = static_cast<double>(split ? half : each);
    if (halves.within > 0.0)
      result.r_hat = std::max(result.r_hat, std::sqrt((length - 1.0) / length + halves.between / halves.within));
    const Moments whole = moments(z, k, populations, each);
    const double total = whole.within + whole.between;
    if (total > 0.0) pooled += whole.between / total * static_cast<double>(each) / static_cast<double>(unknowns);
  }
  result.effective = static_cast<double>(z.size()) / std::max(pooled, 1.0);
  return result;
}

}  // namespace airtally::hunt
