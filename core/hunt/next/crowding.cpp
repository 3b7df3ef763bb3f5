#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <numbers>
#include <numeric>

#include "hunt/next/crowding_private.hpp"

namespace airtally::hunt {
namespace {

/// Without a detour by way of long double, whose tables would be made when the program starts.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

constexpr Eigen::Index fewest = 5;

/// Distance of each to its `near`-th neighbour.
std::vector<double> distances(const Eigen::RowVectorXd& at, Eigen::Index near) {
  std::vector<Eigen::Index> order(static_cast<std::size_t>(at.size()));
  std::iota(order.begin(), order.end(), Eigen::Index{0});
  std::sort(order.begin(), order.end(), [&](Eigen::Index a, Eigen::Index b) { return at[a] < at[b]; });
  const auto place = [&](Eigen::Index i) { return at[order[static_cast<std::size_t>(i)]]; };
  std::vector<double> distance(order.size());
  Eigen::Index first = 0;  // of the near + 1 that are nearest, in order
  for (Eigen::Index i = 0; i < at.size(); ++i) {
    while (first < i && first + near + 1 < at.size() && place(first + near + 1) - place(i) < place(i) - place(first))
      ++first;
    distance[static_cast<std::size_t>(order[static_cast<std::size_t>(i)])] =
        std::max(place(i) - place(first), place(first + near) - place(i));
  }
  return distance;
}

}  // namespace

std::vector<double> crowding(const Eigen::RowVectorXd& at) {
  const Eigen::Index count = at.size();
  if (count < fewest) return std::vector<double>(static_cast<std::size_t>(count), 1.0);
  const Eigen::Index near = std::max<Eigen::Index>(2, (count + 9) / 10);
  const double part = static_cast<double>(near) / static_cast<double>(count);
  const double loose = std::numbers::sqrt2 * boost::math::erf_inv(part, InDouble());
  std::vector<double> all = distances(at, near);
  for (double& distance : all) distance = std::min(1.0, distance / loose);
  return all;
}

}  // namespace airtally::hunt
