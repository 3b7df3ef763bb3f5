#include "hunt/samples/convergence.hpp"

#include <algorithm>
#include <cmath>

namespace airtally::hunt {
namespace {

struct Moments {
  double between = 0.0;  ///< variance of the means
  double within = 0.0;   ///< mean of the variances
  double length = 0.0;   ///< effective samples of a group, on the average
};

class Groups {
 public:
  Groups(const std::vector<std::vector<double>>& z, const std::vector<double>& weight, std::size_t count,
         std::size_t each)
      : z_(z), weight_(weight), count_(count), each_(each) {}

  Moments of(std::size_t k) const {
    std::vector<double> means;
    Moments result;
    for (std::size_t g = 0; g < count_; ++g) {
      double total = 0.0, squares = 0.0, mean = 0.0, square = 0.0;
      for (std::size_t i = g * each_; i < (g + 1) * each_; ++i) {
        total += at(i);
        squares += at(i) * at(i);
        mean += at(i) * z_[i][k];
      }
      if (!(total > 0.0)) continue;
      mean /= total;
      for (std::size_t i = g * each_; i < (g + 1) * each_; ++i) square += at(i) * (z_[i][k] - mean) * (z_[i][k] - mean);
      const double effective = total * total / squares;
      means.push_back(mean);
      result.length += effective;
      result.within += square / total * effective / std::max(effective - 1.0, 1.0);
    }
    const auto groups = static_cast<double>(means.size());
    if (means.size() < 2) return result;
    result.within /= groups;
    result.length /= groups;
    double mean = 0.0;
    for (double m : means) mean += m / groups;
    for (double m : means) result.between += (m - mean) * (m - mean) / (groups - 1.0);
    return result;
  }

 private:
  double at(std::size_t i) const { return weight_.empty() ? 1.0 : weight_[i]; }

  const std::vector<std::vector<double>>& z_;
  const std::vector<double>& weight_;
  std::size_t count_, each_;
};

}  // namespace

Convergence convergence_of(const std::vector<std::vector<double>>& z, std::size_t populations,
                           const std::vector<double>& weight) {
  Convergence result;
  result.effective = static_cast<double>(z.size());
  if (!weight.empty()) {
    double total = 0.0, squares = 0.0;
    for (double w : weight) {
      total += w;
      squares += w * w;
    }
    result.effective = squares > 0.0 ? total * total / squares : 0.0;
  }
  if (z.empty() || populations < 2) return result;
  const std::size_t each = z.size() / populations;
  if (each < 4) return result;
  // Halves of an odd population would overlap their neighbours; the whole populations serve then.
  const bool split = each % 2 == 0;
  const Groups halves(z, weight, split ? 2 * populations : populations, split ? each / 2 : each);
  const Groups whole(z, weight, populations, each);
  double pooled = 0.0;
  const std::size_t unknowns = z.front().size();
  for (std::size_t k = 0; k < unknowns; ++k) {
    const Moments half = halves.of(k);
    if (half.within > 0.0)
      result.r_hat = std::max(result.r_hat, std::sqrt(1.0 - 1.0 / half.length + half.between / half.within));
    const Moments all = whole.of(k);
    const double total = all.within + all.between;
    if (total > 0.0) pooled += all.between / total * all.length / static_cast<double>(unknowns);
  }
  result.effective /= std::max(pooled, 1.0);
  return result;
}

}  // namespace airtally::hunt
