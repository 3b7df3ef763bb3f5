#include <algorithm>
#include <cmath>

#include "errors.hpp"
#include "hunt/verdict/court_private.hpp"
#include "hunt/verdict/fault_size.hpp"

namespace airtally::hunt {
namespace {

constexpr double sound = 0.01;    ///< of the leak that was found: no fault
constexpr double furthest = 4.0;  ///< z at which a start lies
constexpr double matters = 0.05;  ///< of the tip's vacuum: what parts may drop for
constexpr double plain = 0.2;     ///< of the same: what no one overlooks
/// Chi-square of a fault that has not shown, beyond which no one looks for it: one in a hundred.
constexpr double seldom = 6.63;

/// Whether it may be what is wrong with the blamed. A pump that has worn as pumps do is not at fault, however much of
/// what the tips lack is its: it stays as it is, and what no reading has cleared may still be worse.
bool at_fault(const Unknown& unknown, double z) {
  const bool wear = unknown.what == What::pump_flow || unknown.what == What::pump_vacuum;
  return fault(unknown) && !(wear && std::fabs(z) < damage_onset);
}

/// What a fault is taken to be at the start of a trial.
double first_guess(const Suspects& suspects, const Unknown& unknown, double leak) {
  if (unknown.what == What::leak) return leak / suspects.leak_at_one[unknown.element];
  if (unknown.what == What::seal) return 30.0;  // a gap three times as wide
  if (unknown.what == What::bore) return 0.4;
  return unknown.what == What::blockage ? 0.2 : unknown.what == What::pump_flow ? 0.5 : 0.9;
}

/// What each element costs the tips in a state; nothing where the line can't be solved so far out in the priors' tails.
std::vector<double> gains_at(TipCosts& costs, const std::vector<double>& z) {
  try {
    return costs.gains(z);
  } catch (const NoConvergence&) {
  } catch (const DomainError&) {
  }
  return {};
}

/// What an element costs the tips beyond what it would as the file has it; 0 where the line can't be solved.
double excess_at(TipCosts& costs, const std::vector<double>& z, std::size_t element) {
  try {
    return costs.excess(z, element);
  } catch (const NoConvergence&) {
  } catch (const DomainError&) {
  }
  return 0.0;
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

}  // namespace

Case case_of(const Suspects& suspects, Evidence& evidence, TipCosts& costs, const std::vector<Mode>& modes,
             std::size_t blamed) {
  Case c{suspects, blamed, {}, 0.0, 0.0, 0.0, true, 0.0, {}, {}, {}, {}, {}};
  c.best.sum = 1e300;
  for (std::size_t k = 0; k < std::min<std::size_t>(modes.size(), 3); ++k)
    if (Fit fit = Trial(suspects, evidence, blamed).from(modes[k].z); fit.sum < c.best.sum) c.best = std::move(fit);
  const std::vector<double> gains = gains_at(costs, c.best.x);
  if (!gains.empty()) c.cost = gains[blamed];
  c.tip_vacuum = costs.tip_vacuum();
  c.excess = excess_at(costs, c.best.x, blamed);
  const bool little = c.cost < matters * c.tip_vacuum;
  c.cleared = c.filed = c.best.x;
  c.healthy.assign(suspects.unknowns.size(), 0.0);
  for (std::size_t k = 0; k < suspects.unknowns.size(); ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    const double z = c.best.x[k];
    if (unknown.element == blamed && fault(unknown)) c.ordinary = c.ordinary && (little || std::fabs(z) < damage_onset);
    if (unknown.element != blamed || !at_fault(unknown, z)) continue;
    c.its.push_back(k);
    if (unknown.what == What::leak) c.leak = unknown.prior.at(z) * suspects.leak_at_one[blamed];
    c.cleared[k] = unknown.prior.z_of(unknown.what == What::leak ? sound * unknown.prior.at(z) : 1.0);
    c.healthy[k] = c.cleared[k];
    c.filed[k] = z_as_filed(unknown);
  }
  c.design = gains_at(costs, c.healthy);
  c.design.resize(suspects.line.elements.size(), 0.0);
  return c;
}

Rival Court::tried_beside(std::size_t element) {
  Rival rival{element, {}, parted, {}};
  for (std::size_t k = 0; k < case_.suspects.unknowns.size() && case_.ordinary; ++k) {
    const Unknown& unknown = case_.suspects.unknowns[k];
    if (unknown.element == element && fault(unknown)) beside(k, rival);
  }
  return rival;
}

Rival Court::tried(std::size_t element) {
  const Suspects& suspects = case_.suspects;
  Rival rival = tried_beside(element);
  for (std::size_t k = 0; k < suspects.unknowns.size() && rival.worse >= parted; ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    if (unknown.element != element || !fault(unknown)) continue;
    Trial trial(suspects, *evidence_, element);
    for (std::size_t b : case_.its) trial.hold(b);
    const auto at_start = [&](std::vector<double> start) {
      start[k] = std::clamp(unknown.prior.z_of(first_guess(suspects, unknown, case_.leak)), -furthest, furthest);
      return start;
    };
    for (const std::vector<double>* base : {&case_.cleared, &case_.healthy}) {
      if (rival.worse < parted) break;
      take(trial, trial.from(at_start(*base)), 0.0, rival);
    }
    // As the file has it the blamed may cost a good deal, as a joint's clearance does, and still not be what is wrong.
    if (rival.worse >= parted && case_.excess >= matters * case_.tip_vacuum) {
      const Fit fit = trial.from(at_start(case_.filed));
      if (fit.sum - case_.best.sum < parted && amiss_alone(fit.x, element))
        rival = {element, fit.x, fit.sum - case_.best.sum, trial.draws(fit, element + 1)};
    }
    if (rival.worse >= parted) as_costly(trial, k, rival);
  }
  return rival;
}

void Court::take(const Trial& trial, const Fit& fit, double more, Rival& rival) {
  const double worse = fit.sum + more - case_.best.sum;
  // The fit must need the element, and not something else that took the fault upon itself.
  if (worse < rival.worse && alone_in(fit.x, rival.element))
    rival = {rival.element, fit.x, worse, trial.draws(fit, rival.element + 1)};
}

/// Where no reading says anything of unknown k, the fit makes it sound; then as faulty as the blamed, and no more.
void Court::as_costly(Trial& trial, std::size_t k, Rival& rival) {
  const auto z = fault_that_costs(case_.suspects, *costs_, case_.healthy, k, case_.cost);
  if (z) take_held(trial, case_.healthy, k, *z, parted, rival);
}

/// Whether a state has a fault beside unknown k that the line as it was found has not: one that hides the other. No one
/// looks for two that are out of the ordinary at once.
bool Court::takes_another(const std::vector<double>& z, std::size_t k) const {
  for (std::size_t u = 0; u < z.size(); ++u)
    if (u != k && fault(case_.suspects.unknowns[u]) && std::fabs(z[u]) >= damage_onset &&
        std::fabs(case_.best.x[u]) < damage_onset)
      return true;
  return false;
}

/// Where nothing is wrong with the blamed but what it costs anyhow, as a joint's clearance does, whatever no reading
/// has cleared may be the fault that is looked for, with the blamed as it is. With all tips covered hardly any air
/// flows, and only a way all but shut would cost anything: no one looks for that.
void Court::beside(std::size_t k, Rival& rival) {
  const What what = case_.suspects.unknowns[k].what;
  if ((what == What::blockage || what == What::bore) && !costs_->open()) return;
  // The larger it may be, the plainer will a test show it.
  for (const double share : {plain, matters}) {
    const auto z = fault_that_outdoes(case_.suspects, *costs_, case_.best.x, k, case_.blamed, share * case_.tip_vacuum);
    if (!z) continue;
    Trial trial(case_.suspects, *evidence_, rival.element);
    take_held(trial, case_.best.x, k, *z, seldom, rival, true);
    if (rival.worse < parted) return;
  }
}

/// Unknown k held at z, from `start` on, if that is `likely` enough [chi-square]; `by_itself`: and no other fault need
/// hide it.
void Court::take_held(Trial& trial, std::vector<double> start, std::size_t k, double z, double likely, Rival& rival,
                      bool by_itself) {
  const double width = case_.suspects.unknowns[k].what == What::leak ? Trial::wide : 1.0;
  const double own = z * z / (width * width);
  if (!(own < likely)) return;
  trial.hold(k);
  start[k] = z;
  // What else would have to be out of the ordinary, so that no reading shows it, counts as well.
  const Fit fit = trial.from(start);
  if (by_itself && takes_another(fit.x, k)) return;
  if (own + fit.sum - case_.best.sum < likely) take(trial, fit, own, rival);
}

/// Whether the element is the worst in a state, and alone to blame there: with it mended no other costs half of what
/// the blamed did, beyond what it costs by design, but for the blamed as far as it is left as it is. A shut nozzle
/// would hide what else is wrong.
bool Court::alone_in(const std::vector<double>& z, std::size_t element) {
  const std::vector<double> gains = gains_at(*costs_, z);
  if (gains.empty() || gains[element] < *std::max_element(gains.begin(), gains.end())) return false;
  const std::vector<double> left = gains_at(*costs_, mended(case_.suspects, z, element));
  for (std::size_t i = 0; i < left.size(); ++i)
    if (i != element && i != case_.blamed && left[i] > 0.5 * case_.cost + case_.design[i]) return false;
  return !left.empty();
}

/// Whether in a state it is the element that is furthest from what the file has, by what parts may drop for.
bool Court::amiss_alone(const std::vector<double>& z, std::size_t element) {
  const double its = excess_at(*costs_, z, element);
  if (its < matters * case_.tip_vacuum) return false;
  for (std::size_t i = 0; i < case_.suspects.line.elements.size(); ++i)
    if (i != element && excess_at(*costs_, z, i) >= its) return false;
  return true;
}

}  // namespace airtally::hunt
