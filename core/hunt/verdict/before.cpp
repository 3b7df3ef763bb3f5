#include "hunt/verdict/before.hpp"

#include <algorithm>
#include <optional>

#include "errors.hpp"
#include "hunt/samples/normals_private.hpp"
#include "hunt/verdict/trial_private.hpp"

namespace airtally::hunt {
namespace {

constexpr std::size_t draws = 96;

/// Whether one of them is worse than filed in a state; nothing where the line can't be solved in it.
std::optional<bool> any_worse(const Suspects& suspects, TipCosts& costs, const std::vector<double>& z,
                              const std::vector<std::size_t>& elements) {
  try {
    const std::vector<double> excess = costs.notable_excess(z, costs.gains(z));
    const std::vector<double> open = open_shares(suspects, suspects.values(z));
    return std::any_of(elements.begin(), elements.end(),
                       [&](std::size_t e) { return excess[e] > 0.0 || open[e] < shut; });
  } catch (const NoConvergence&) {
  } catch (const DomainError&) {
  }
  return std::nullopt;
}

}  // namespace

double chance_before(const Suspects& suspects, const std::vector<std::vector<double>>& samples,
                     const std::vector<double>& weight, const std::vector<solve::TipState>& tips,
                     const std::vector<std::size_t>& elements) {
  TipCosts costs(suspects, tips);
  Normals normals(1);
  const std::size_t count = std::min(draws, samples.size());
  double worse = 0.0, all = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t s = i * samples.size() / count;
    std::vector<double> z = samples[s];
    for (std::size_t k = 0; k < z.size(); ++k) {
      const Unknown& unknown = suspects.unknowns[k];
      // How a part sits that sits as filed is where the others' faults show, and none itself.
      if (unknown.what == What::seal && !unknown.worse_than_filed(unknown.prior.at(z[k]))) continue;
      if (fault(unknown) && std::find(elements.begin(), elements.end(), unknown.element) != elements.end())
        z[k] = normals.normal();
    }
    const std::optional<bool> one = any_worse(suspects, costs, z, elements);
    if (!one) continue;
    all += weight[s];
    worse += *one ? weight[s] : 0.0;
  }
  return all > 0.0 ? worse / all : 0.0;
}

}  // namespace airtally::hunt
