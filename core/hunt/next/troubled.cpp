#include "hunt/next/troubled.hpp"

#include <algorithm>
#include <cmath>

#include "hunt/samples/normals_private.hpp"
#include "hunt/verdict/fault_size.hpp"
#include "hunt/verdict/trial_private.hpp"
#include "study/parallel.hpp"

namespace airtally::hunt {
namespace {

/// That a fault takes [-]: from what one would hardly notice to a hose that has come off.
constexpr double shares_of_tip[] = {0.05, 0.1, 0.2, 0.4, 0.6, 0.8, 0.95};
constexpr std::size_t draws_each = 32;  ///< per fault

/// A kind of fault of one element, with its sizes.
struct Fault {
  std::size_t unknown = 0;
  std::vector<double> z;  ///< that takes one share after the other [-]; not all where it can't, or others are worse
  double width = 1.0;     ///< of its prior [-]

  /// A size between the least and the largest, the logarithm of the share uniform.
  double drawn(double uniform) const {
    const double at = uniform * static_cast<double>(z.size() - 1);
    const std::size_t below = std::min(static_cast<std::size_t>(at), z.size() - 2);
    return std::lerp(z[below], z[below + 1], at - static_cast<double>(below));
  }
  double weight(double size) const { return std::exp(-0.5 * (size / width) * (size / width)); }
};

/// The faults of an element with which it is the worst on a line that is well otherwise.
std::vector<Fault> faults_of(const Suspects& suspects, TipCosts& costs, std::size_t element) {
  std::vector<Fault> faults;
  const std::vector<double> well(suspects.unknowns.size(), 0.0);
  costs.gains(well);
  const double tip = costs.tip_vacuum();
  for (std::size_t k = 0; k < suspects.unknowns.size(); ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    if (unknown.element != element || !fault(unknown)) continue;
    Fault one{k, {}, unknown.what == What::leak ? Trial::wide : 1.0};
    for (double share : shares_of_tip) {
      std::vector<double> z = well;
      const std::optional<double> size = fault_that_costs(suspects, costs, z, k, share * tip);
      if (!size) break;
      z[k] = *size;
      const std::vector<double> gains = costs.gains(z);
      if (gains[element] >= *std::max_element(gains.begin(), gains.end())) one.z.push_back(*size);
    }
    if (one.z.size() > 1) faults.push_back(std::move(one));
  }
  return faults;
}

}  // namespace

Beliefs troubled(const Suspects& suspects, const std::vector<solve::TipState>& tips) {
  const std::size_t n = suspects.line.elements.size();
  std::vector<std::vector<Fault>> faults(n);
  study::parallel(shares, study::processors(), [&](std::size_t share) {
    TipCosts costs(suspects, tips);
    for (std::size_t i = share; i < n; i += shares) faults[i] = faults_of(suspects, costs, i);
  });
  Beliefs all;
  double sum = 0.0;
  std::size_t able = 0;
  for (std::size_t i = 0; i < n; ++i) {
    Normals normals(i + 1);
    able += !faults[i].empty();
    const std::size_t from = all.z.size();
    double most = 0.0, its = 0.0;
    for (const Fault& fault : faults[i])
      for (std::size_t d = 0; d < draws_each; ++d) {
        const Eigen::VectorXd drawn = normals.normals(static_cast<Eigen::Index>(suspects.unknowns.size()));
        all.z.emplace_back(drawn.begin(), drawn.end());
        const double size = fault.drawn((static_cast<double>(d) + 0.5) / draws_each);
        all.z.back()[fault.unknown] = size;
        all.weight.push_back(fault.weight(size));
        all.costs.worst.push_back(i);
        most = std::max(most, all.weight.back());
        its += all.weight.back();
      }
    for (std::size_t s = from; s < all.z.size(); ++s) all.weight[s] *= most / its;
    sum += most;
  }
  if (able < 2) return {};
  for (double& weight : all.weight) weight /= sum;
  return all;
}

}  // namespace airtally::hunt
