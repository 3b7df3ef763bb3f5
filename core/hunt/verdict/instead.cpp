#include "hunt/verdict/instead.hpp"

#include <algorithm>
#include <cmath>

#include "hunt/verdict/rivals.hpp"
#include "hunt/verdict/trial_private.hpp"
#include "study/parallel.hpp"

namespace airtally::hunt {
namespace {

/// Where a fault is looked for: a leak well up in its prior, a way or a pump that has lost half.
double z_of_fault(const Unknown& unknown) {
  return unknown.lets_in() ? 2.0 : unknown.prior.z_of(unknown.what == What::pump_vacuum ? 0.85 : 0.5);
}

}  // namespace

std::optional<Rival> instead_of(const Suspects& suspects, Evidence& evidence, const std::vector<Mode>& modes,
                                std::size_t element) {
  const auto best =
      std::min_element(modes.begin(), modes.end(), [](const Mode& a, const Mode& b) { return a.cost < b.cost; });
  const std::size_t n = suspects.unknowns.size();
  std::vector<double> filed = best->z;
  for (std::size_t k = 0; k < n; ++k)
    if (suspects.unknowns[k].element == element && fault(suspects.unknowns[k]))
      filed[k] = z_as_filed(suspects.unknowns[k]);
  std::vector<Fit> fits(n);
  study::parallel(shares, study::processors(), [&](std::size_t share) {
    Evidence own = evidence.another();
    Trial trial(suspects, own, line::none);
    for (std::size_t k = 0; k < n; ++k)
      if (suspects.unknowns[k].element == element && fault(suspects.unknowns[k])) trial.hold(k);
    for (std::size_t k = share; k < n; k += shares) {
      const Unknown& unknown = suspects.unknowns[k];
      if (unknown.element == element || !fault(unknown)) continue;
      std::vector<double> start = filed;
      start[k] = z_of_fault(unknown);
      fits[k] = trial.from(start);
    }
  });
  const Fit* least = nullptr;
  for (const Fit& fit : fits)
    if (!fit.x.empty() && (least == nullptr || fit.sum < least->sum)) least = &fit;
  if (least == nullptr || !(least->sum - best->cost < parted)) return {};
  // The start may have been another's: to blame is who moved furthest from where the peak had it.
  std::optional<std::size_t> who;
  double most = 0.5;
  for (std::size_t k = 0; k < n; ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    const double moved = std::fabs(least->x[k]) - std::fabs(best->z[k]);
    if (unknown.element == element || !fault(unknown) || moved <= most) continue;
    most = moved;
    who = unknown.element;
  }
  if (!who) return {};
  Trial trial(suspects, evidence, line::none);
  for (std::size_t k = 0; k < n; ++k)
    if (suspects.unknowns[k].element == element && fault(suspects.unknowns[k])) trial.hold(k);
  return Rival{*who, least->x, least->sum - best->cost, trial.draws(*least, element + 1)};
}

}  // namespace airtally::hunt
