#include "hunt/verdict/worst.hpp"

#include <algorithm>

namespace airtally::hunt {

TipCosts::TipCosts(const Suspects& suspects, const std::vector<solve::TipState>& tips)
    : suspects_(&suspects),
      open_(std::find(tips.begin(), tips.end(), solve::TipState::open) != tips.end()),
      rig_(suspects, line::topology(suspects.line), Setting{{}, 0.0, tips}) {}

std::vector<double> TipCosts::gains(const std::vector<double>& z) {
  const std::vector<double> values = suspects_->values(z);
  rig_.solve(values);
  std::vector<double> gain(suspects_->line.elements.size());
  for (std::size_t i = 0; i < gain.size(); ++i) gain[i] = rig_.gain(i, values);
  return gain;
}

double TipCosts::gain(const std::vector<double>& z, std::size_t element) {
  const std::vector<double> values = suspects_->values(z);
  rig_.solve(values);
  return rig_.gain(element, values);
}

double TipCosts::excess(const std::vector<double>& z, std::size_t element) {
  const std::vector<double> values = suspects_->values(z);
  rig_.solve(values);
  return rig_.excess(element, values);
}

double TipCosts::tip_vacuum() const {
  const std::vector<double> vacuum = rig_.tips();
  return vacuum.empty() ? 0.0 : *std::max_element(vacuum.begin(), vacuum.end());
}

Costs costs_of(const Suspects& suspects, const std::vector<std::vector<double>>& z,
               const std::vector<solve::TipState>& tips) {
  Costs costs;
  TipCosts tip_costs(suspects, tips);
  for (const std::vector<double>& sample : z) {
    std::vector<double> gain = tip_costs.gains(sample);
    costs.tip_vacuum.push_back(tip_costs.tip_vacuum());
    std::vector<double> excess(gain.size(), 0.0);
    // A shut valve leaves the tip next to nothing, of which any trifle would be a notable share.
    const double least = notable * (costs.tip_vacuum.back() + *std::max_element(gain.begin(), gain.end()));
    for (std::size_t i = 0; i < gain.size(); ++i)  // what an element as filed gains is no more than a mended one does
      if (gain[i] >= least)
        if (const double more = tip_costs.excess(sample, i); more >= least) excess[i] = more;
    costs.excess.push_back(std::move(excess));
    std::vector<double> open(gain.size(), 1.0);
    for (std::size_t k = 0; k < sample.size(); ++k)
      if (const Unknown& unknown = suspects.unknowns[k];
          unknown.what == What::blockage || unknown.what == What::pump_flow)
        open[unknown.element] = unknown.prior.at(sample[k]) / unknown.filed();
    costs.open.push_back(std::move(open));
    costs.worst.push_back(static_cast<std::size_t>(std::max_element(gain.begin(), gain.end()) - gain.begin()));
    costs.gain.push_back(std::move(gain));
  }
  return costs;
}

}  // namespace airtally::hunt
