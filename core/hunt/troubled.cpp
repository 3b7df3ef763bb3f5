#include "hunt/troubled.hpp"

#include <algorithm>
#include <cmath>

#include "hunt/fault_size.hpp"
#include "hunt/mixture_private.hpp"
#include "hunt/trial_private.hpp"
#include "study/parallel.hpp"

namespace airtally::hunt {
namespace {

constexpr double shares_of_tip[] = {0.1, 0.25, 0.5};  ///< that a fault takes [-]
constexpr std::size_t draws_each = 12;                ///< of the rest of the line, per size of fault

/// A fault of one size.
struct Fault {
  std::size_t unknown = 0;
  double z = 0.0;       ///< its size [-]
  double weight = 0.0;  ///< [-]
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
    for (double share : shares_of_tip) {
      std::vector<double> z = well;
      const std::optional<double> size = fault_that_costs(suspects, costs, z, k, share * tip);
      if (!size) continue;
      z[k] = *size;
      const std::vector<double> gains = costs.gains(z);
      if (gains[element] < *std::max_element(gains.begin(), gains.end())) continue;
      const double width = unknown.what == What::leak ? Trial::wide : 1.0;
      faults.push_back({k, *size, std::exp(-0.5 * (*size / width) * (*size / width))});
    }
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
    double most = 0.0, its = 0.0;
    for (const Fault& fault : faults[i]) {
      most = std::max(most, fault.weight);
      its += fault.weight;
    }
    for (const Fault& fault : faults[i])
      for (std::size_t d = 0; d < draws_each; ++d) {
        const Eigen::VectorXd drawn = normals.normals(static_cast<Eigen::Index>(suspects.unknowns.size()));
        all.z.emplace_back(drawn.begin(), drawn.end());
        all.z.back()[fault.unknown] = fault.z;
        all.weight.push_back(fault.weight / its * most);
        all.costs.worst.push_back(i);
        sum += all.weight.back();
      }
  }
  if (able < 2) return {};
  for (double& weight : all.weight) weight /= sum;
  return all;
}

}  // namespace airtally::hunt
