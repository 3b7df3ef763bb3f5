#include "hunt/worst.hpp"

#include <algorithm>

namespace airtally::hunt {

Costs costs_of(const Suspects& suspects, const std::vector<std::vector<double>>& z,
               const std::vector<solve::TipState>& tips) {
  Costs costs;
  Rig rig(suspects, line::topology(suspects.line), Setting{{}, 0.0, tips});
  const std::size_t n = suspects.line.elements.size();
  for (const std::vector<double>& sample : z) {
    const std::vector<double> values = suspects.values(sample);
    rig.solve(values);
    const std::vector<double> vacuum = rig.tips();
    costs.tip_vacuum.push_back(vacuum.empty() ? 0.0 : *std::max_element(vacuum.begin(), vacuum.end()));
    std::vector<double> gain(n);
    for (std::size_t i = 0; i < n; ++i) gain[i] = rig.gain(i, values);
    costs.worst.push_back(static_cast<std::size_t>(std::max_element(gain.begin(), gain.end()) - gain.begin()));
    costs.gain.push_back(std::move(gain));
  }
  return costs;
}

}  // namespace airtally::hunt
