#include "hunt/verdict/fault_size.hpp"

#include <algorithm>

#include "errors.hpp"
#include "hunt/verdict/trial_private.hpp"

namespace airtally::hunt {

namespace {

constexpr double clearly = 1.25;

/// The least fault of unknown k, from what it is in `z` on, that is `enough`.
template <class Enough>
std::optional<double> least_fault(const Suspects& suspects, std::vector<double>& z, std::size_t k,
                                  const Enough& enough) {
  const Unknown& unknown = suspects.unknowns[k];
  const bool rising = unknown.prior.at(Trial::end) > unknown.prior.at(-Trial::end);
  const double worst = rising == unknown.lets_in() ? Trial::end : -Trial::end;
  double less = z[k], more = worst;
  const auto enough_at = [&](double at) {
    z[k] = at;
    try {
      return enough(z);
    } catch (const NoConvergence&) {
    } catch (const DomainError&) {
    }
    return false;
  };
  if (!enough_at(worst)) return std::nullopt;
  for (int halvings = 0; halvings < 10; ++halvings)
    (enough_at(0.5 * (less + more)) ? more : less) = 0.5 * (less + more);
  return more;
}

}  // namespace

std::optional<double> fault_that_costs(const Suspects& suspects, TipCosts& costs, std::vector<double> z, std::size_t k,
                                       double cost) {
  const std::size_t element = suspects.unknowns[k].element;
  return least_fault(suspects, z, k, [&](const std::vector<double>& at) { return costs.gain(at, element) >= cost; });
}

std::optional<double> fault_that_outdoes(const Suspects& suspects, TipCosts& costs, std::vector<double> z,
                                         std::size_t k, std::size_t other, double cost) {
  const std::size_t element = suspects.unknowns[k].element;
  return least_fault(suspects, z, k, [&](const std::vector<double>& at) {
    return costs.gain(at, element) >= std::max(cost, clearly * costs.gain(at, other));
  });
}

}  // namespace airtally::hunt
