#include "hunt/verdict/fault_size.hpp"

#include "errors.hpp"
#include "hunt/verdict/trial_private.hpp"

namespace airtally::hunt {

std::optional<double> fault_that_costs(const Suspects& suspects, TipCosts& costs, std::vector<double> z, std::size_t k,
                                       double cost) {
  const Unknown& unknown = suspects.unknowns[k];
  const bool rising = unknown.prior.at(Trial::end) > unknown.prior.at(-Trial::end);
  const double worst = rising == (unknown.what == What::leak) ? Trial::end : -Trial::end;
  double less = z[k], more = worst;
  const auto enough = [&](double at) {
    z[k] = at;
    try {
      return costs.gain(z, unknown.element) >= cost;
    } catch (const NoConvergence&) {
    } catch (const DomainError&) {
    }
    return false;
  };
  if (!enough(worst)) return std::nullopt;
  for (int halvings = 0; halvings < 10; ++halvings) (enough(0.5 * (less + more)) ? more : less) = 0.5 * (less + more);
  return more;
}

}  // namespace airtally::hunt
