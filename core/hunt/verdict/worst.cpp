#include "hunt/verdict/worst.hpp"

#include <algorithm>

#include "hunt/beliefs/way.hpp"
#include "hunt/fit/evidence.hpp"
#include "study/parallel.hpp"

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

std::vector<double> TipCosts::notable_excess(const std::vector<double>& z, const std::vector<double>& gains) {
  std::vector<double> all(gains.size(), 0.0);
  // A shut valve leaves the tip next to nothing, of which any trifle would be a notable share.
  const double least = notable * (tip_vacuum() + *std::max_element(gains.begin(), gains.end()));
  for (std::size_t e = 0; e < gains.size(); ++e)  // what an element as filed gains is no more than a mended one does
    if (gains[e] >= least)
      if (const double more = excess(z, e); more >= least) all[e] = more;
  return all;
}

double TipCosts::tip_vacuum() const {
  const std::vector<double> vacuum = rig_.tips();
  return vacuum.empty() ? 0.0 : *std::max_element(vacuum.begin(), vacuum.end());
}

std::vector<double> open_shares(const Suspects& suspects, const std::vector<double>& values) {
  std::vector<double> open(suspects.line.elements.size(), 1.0);
  for (std::size_t e = 0; e < open.size(); ++e)
    if (const auto way = way_through(suspects, e, values)) open[e] = *way / *filed_way(suspects, e);
  for (std::size_t k = 0; k < values.size(); ++k)
    if (const Unknown& unknown = suspects.unknowns[k]; unknown.what == What::pump_flow)
      open[unknown.element] = values[k] / unknown.filed();
  return open;
}

namespace {

/// Of sample i alone, into its place.
void cost(const Suspects& suspects, TipCosts& tip_costs, const std::vector<double>& sample, std::size_t i,
          Costs& costs) {
  std::vector<double> gain = tip_costs.gains(sample);
  costs.tip_vacuum[i] = tip_costs.tip_vacuum();
  costs.excess[i] = tip_costs.notable_excess(sample, gain);
  costs.open[i] = open_shares(suspects, suspects.values(sample));
  costs.worst[i] = static_cast<std::size_t>(std::max_element(gain.begin(), gain.end()) - gain.begin());
  costs.gain[i] = std::move(gain);
}

}  // namespace

Costs costs_of(const Suspects& suspects, const std::vector<std::vector<double>>& z,
               const std::vector<solve::TipState>& tips) {
  const std::size_t n = z.size();
  Costs costs{std::vector<std::vector<double>>(n), std::vector<std::vector<double>>(n),
              std::vector<std::vector<double>>(n), std::vector<std::size_t>(n), std::vector<double>(n)};
  study::parallel(shares, study::processors(), [&](std::size_t share) {
    TipCosts own(suspects, tips);
    for (std::size_t i = share; i < n; i += shares) cost(suspects, own, z[i], i, costs);
  });
  return costs;
}

}  // namespace airtally::hunt
