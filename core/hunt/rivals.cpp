#include "hunt/rivals.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "errors.hpp"
#include "hunt/trial_private.hpp"

namespace airtally::hunt {
namespace {

constexpr double sound = 0.01;    ///< of the leak that was found: no fault
constexpr double furthest = 4.0;  ///< z at which a start lies

/// Whether it may be what is wrong with the blamed. A pump that has worn as pumps do is not at fault, however much of
/// what the tips lack is its: it stays as it is, and what no reading has cleared may still be worse.
bool at_fault(const Unknown& unknown, double z) {
  const bool wear = unknown.what == What::pump_flow || unknown.what == What::pump_vacuum;
  return fault(unknown) && !(wear && std::fabs(z) < damage_onset);
}

/// What a fault is taken to be at the start of a trial.
double first_guess(const Suspects& suspects, const Unknown& unknown, double leak) {
  if (unknown.what == What::leak) return leak / suspects.leak_at_one[unknown.element];
  return unknown.what == What::blockage ? 0.2 : unknown.what == What::pump_flow ? 0.5 : 0.9;
}

/// What each element costs the tips in a state; nothing where the line can't be solved so far out in the priors' tails.
std::vector<double> gains_at(const Suspects& suspects, const std::vector<double>& z,
                             const std::vector<solve::TipState>& tips) {
  try {
    return std::move(costs_of(suspects, {z}, tips).gain.front());
  } catch (const NoConvergence&) {
  } catch (const DomainError&) {
  }
  return {};
}

/// A state with one element sound.
std::vector<double> mended(const Suspects& suspects, std::vector<double> z, std::size_t element) {
  for (std::size_t k = 0; k < z.size(); ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    if (unknown.element != element || !fault(unknown)) continue;
    z[k] = unknown.prior.z_of(unknown.what == What::leak ? sound * unknown.prior.at(z[k]) : 1.0);
  }
  return z;
}

/// Whether the element is the worst in a state, and alone to blame there: with it mended no other costs half of `cost`,
/// what the blamed did, but for the `blamed` as far as it is left as it is. A shut nozzle would hide what else is
/// wrong.
bool alone_in(const Suspects& suspects, const std::vector<double>& z, const std::vector<solve::TipState>& tips,
              std::size_t element, std::size_t blamed, double cost) {
  const std::vector<double> gains = gains_at(suspects, z, tips);
  if (gains.empty() || gains[element] < *std::max_element(gains.begin(), gains.end())) return false;
  const std::vector<double> left = gains_at(suspects, mended(suspects, z, element), tips);
  for (std::size_t i = 0; i < left.size(); ++i)
    if (i != element && i != blamed && left[i] > 0.5 * cost) return false;
  return !left.empty();
}

/// The least fault of unknown k, from healthy on, whose mending gains the tips `wanted` [Pa]; none when none does.
std::optional<double> fault_of(const Suspects& suspects, std::vector<double> z, std::size_t k, double wanted,
                               const std::vector<solve::TipState>& tips) {
  const Unknown& unknown = suspects.unknowns[k];
  const bool rising = unknown.prior.at(Trial::end) > unknown.prior.at(-Trial::end);
  const double worst = rising == (unknown.what == What::leak) ? Trial::end : -Trial::end;
  const auto enough = [&](double at) {
    z[k] = at;
    const std::vector<double> gains = gains_at(suspects, z, tips);
    return !gains.empty() && gains[unknown.element] >= wanted;
  };
  if (!enough(worst)) return std::nullopt;
  double less = 0.0, more = worst;
  for (int halvings = 0; halvings < 10; ++halvings) (enough(0.5 * (less + more)) ? more : less) = 0.5 * (less + more);
  return more;
}

}  // namespace

std::vector<Rival> rivals_of(const Suspects& suspects, Evidence& evidence, const std::vector<Mode>& modes,
                             const std::vector<solve::TipState>& tips, std::size_t blamed) {
  const std::size_t n = suspects.unknowns.size();
  Fit best;
  best.sum = 1e300;
  for (std::size_t k = 0; k < std::min<std::size_t>(modes.size(), 3); ++k)
    if (Fit fit = Trial(suspects, evidence, blamed).from(modes[k].z); fit.sum < best.sum) best = std::move(fit);
  const std::vector<double> gains = gains_at(suspects, best.x, tips);
  const double cost = gains.empty() ? 0.0 : gains[blamed];

  // The line as it was found, but for the blamed being sound; and with nothing wrong at all.
  std::vector<double> cleared = best.x, healthy(n, 0.0);
  double leak = 0.0;
  for (std::size_t k = 0; k < n; ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    if (unknown.element != blamed || !at_fault(unknown, best.x[k])) continue;
    if (unknown.what == What::leak) leak = unknown.prior.at(best.x[k]) * suspects.leak_at_one[blamed];
    cleared[k] = unknown.prior.z_of(unknown.what == What::leak ? sound * unknown.prior.at(best.x[k]) : 1.0);
    healthy[k] = cleared[k];
  }
  std::vector<Rival> rivals;
  for (std::size_t i = 0; i < suspects.line.elements.size(); ++i) {
    if (i == blamed) continue;
    Rival rival{i, {}, parted, {}};
    for (std::size_t k = 0; k < n; ++k) {
      const Unknown& unknown = suspects.unknowns[k];
      if (unknown.element != i || !fault(unknown) || rival.worse < parted) continue;
      Trial trial(suspects, evidence, i);
      for (std::size_t b = 0; b < n; ++b)
        if (suspects.unknowns[b].element == blamed && at_fault(suspects.unknowns[b], best.x[b])) trial.hold(b);
      const auto take = [&](const Fit& fit, double more) {
        const double worse = fit.sum + more - best.sum;
        // The fit must need the element, and not something else that took the fault upon itself.
        if (!(worse < rival.worse) || !alone_in(suspects, fit.x, tips, i, blamed, cost)) return;
        rival = {i, fit.x, worse, trial.draws(fit, i + 1)};
      };
      for (const std::vector<double>& base : {cleared, healthy}) {
        if (rival.worse < parted) break;
        std::vector<double> start = base;
        start[k] = std::clamp(unknown.prior.z_of(first_guess(suspects, unknown, leak)), -furthest, furthest);
        take(trial.from(start), 0.0);
      }
      // Where no reading says anything of it, the fit makes it sound; then as faulty as the blamed, and no more.
      if (rival.worse < parted) continue;
      const std::optional<double> z = fault_of(suspects, healthy, k, cost, tips);
      if (!z) continue;
      const double width = unknown.what == What::leak ? Trial::wide : 1.0, own = *z * *z / (width * width);
      if (!(own < parted)) continue;
      trial.hold(k);
      std::vector<double> start = healthy;
      start[k] = *z;
      take(trial.from(start), own);
    }
    if (rival.worse < parted) rivals.push_back(std::move(rival));
  }
  std::sort(rivals.begin(), rivals.end(), [](const Rival& a, const Rival& b) { return a.worse < b.worse; });
  return rivals;
}

Beliefs with_rivals(const Beliefs& beliefs, const std::vector<Rival>& rivals) {
  // As many of each side, so that none is lost when the tests are screened on a part of them.
  const std::size_t each = Trial::draws_each * rivals.size(), count = std::min(each, beliefs.z.size());
  Beliefs all;
  const auto add = [&](const std::vector<double>& z, double weight, std::size_t worst) {
    all.z.push_back(z);
    all.weight.push_back(weight);
    all.costs.worst.push_back(worst);
  };
  double sum = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t s = i * beliefs.z.size() / count;
    add(beliefs.z[s], beliefs.weight[s], beliefs.costs.worst[s]);
    sum += beliefs.weight[s];
  }
  for (double& weight : all.weight) weight *= 0.5 / sum;
  for (const Rival& rival : rivals)
    for (const std::vector<double>& z : rival.draws) add(z, 0.5 / static_cast<double>(each), rival.element);
  return all;
}

void keep_blamed(NextTest& test, std::size_t blamed, const std::vector<Rival>& rivals) {
  for (const Rival& rival : rivals) test.rivals.push_back(rival.element);
  std::erase_if(test.information.outcomes, [&](const Outcome& outcome) { return outcome.element != blamed; });
  double likeliest = 0.0;
  for (const Outcome& outcome : test.information.outcomes) {
    if (outcome.chance <= likeliest) continue;
    likeliest = outcome.chance;
    test.expected = 0.5 * (outcome.low + outcome.high);
  }
}

}  // namespace airtally::hunt
