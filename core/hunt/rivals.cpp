#include "hunt/rivals.hpp"

#include <Eigen/Dense>
#include <algorithm>

#include "hunt/least_squares.hpp"
#include "hunt/mixture_private.hpp"

namespace airtally::hunt {
namespace {

constexpr double wide = 3.0;      ///< priors of who may be at fault
constexpr double sound = 0.01;    ///< of the leak that was found: no fault
constexpr double furthest = 4.0;  ///< z at which a start lies

constexpr std::size_t draws_each = 24;
constexpr double end = 5.0;  ///< z beyond which no draw goes

bool fault(const Unknown& unknown) { return unknown.what != What::seal && unknown.what != What::offset; }

/// The fit with some unknowns held and the priors of one element's faults made wide.
class Trial {
 public:
  Trial(const Suspects& suspects, Evidence& evidence, std::size_t suspect)
      : evidence_(&evidence), held_(suspects.unknowns.size(), false) {
    for (const Unknown& unknown : suspects.unknowns)
      width_.push_back(unknown.element == suspect && unknown.what == What::leak ? wide : 1.0);
  }

  /// The normal distribution about a fit of from().
  std::vector<std::vector<double>> draws(const Fit& fit, std::uint64_t seed) const {
    std::vector<std::size_t> free;
    for (std::size_t k = 0; k < held_.size(); ++k)
      if (!held_[k]) free.push_back(k);
    std::vector<std::vector<double>> draws(draws_each, fit.x);
    if (fit.covariance.empty()) return draws;
    const auto n = static_cast<Eigen::Index>(free.size());
    const Eigen::MatrixXd spread = Eigen::Map<const Eigen::MatrixXd>(fit.covariance.data(), n, n).llt().matrixL();
    Normals normals(seed);
    for (std::vector<double>& z : draws) {
      const Eigen::VectorXd step = spread * normals.normals(n);
      for (Eigen::Index f = 0; f < n; ++f) {
        double& at = z[free[static_cast<std::size_t>(f)]];
        at = std::clamp(at + step[f], -end, end);
      }
    }
    return draws;
  }

  void hold(std::size_t unknown) { held_[unknown] = true; }

  Fit from(const std::vector<double>& start) const {
    const std::size_t n = held_.size(), m = evidence_->size();
    std::vector<std::size_t> free;
    for (std::size_t k = 0; k < n; ++k)
      if (!held_[k]) free.push_back(k);
    std::vector<double> x, z = start, all(m * n);
    for (std::size_t k : free) x.push_back(start[k]);
    const Residuals residuals = [&](std::span<const double> at, std::span<double> r, std::span<double> slopes) {
      for (std::size_t f = 0; f < free.size(); ++f) z[free[f]] = at[f];
      if (!evidence_->evaluate(z, r.first(m), all)) return false;
      std::fill(slopes.begin(), slopes.end(), 0.0);
      for (std::size_t i = 0; i < m; ++i)
        for (std::size_t f = 0; f < free.size(); ++f) slopes[i * free.size() + f] = all[i * n + free[f]];
      for (std::size_t f = 0; f < free.size(); ++f) {
        r[m + f] = at[f] / width_[free[f]];
        slopes[(m + f) * free.size() + f] = 1.0 / width_[free[f]];
      }
      return true;
    };
    Fit fit = least_squares(m + free.size(), std::move(x), residuals, 60, 1e-5);
    for (std::size_t f = 0; f < free.size(); ++f) z[free[f]] = fit.x[f];
    fit.x = std::move(z);
    return fit;
  }

 private:
  Evidence* evidence_;
  std::vector<bool> held_;
  std::vector<double> width_;
};

/// What the element's faults are taken to be at the start of a trial, one list per unknown of its own.
std::vector<double> first_guesses(const Suspects& suspects, const Unknown& unknown, double leak) {
  if (unknown.what == What::leak)
    return {leak / suspects.leak_at_one[unknown.element], 3.0 * leak / suspects.leak_at_one[unknown.element]};
  return {unknown.what == What::blockage ? 0.2 : unknown.what == What::pump_flow ? 0.5 : 0.9};
}

}  // namespace

std::vector<Rival> rivals_of(const Suspects& suspects, Evidence& evidence, const std::vector<Mode>& modes,
                             const std::vector<solve::TipState>& tips, std::size_t blamed) {
  const std::size_t n = suspects.unknowns.size();
  Fit best;
  best.sum = 1e300;
  for (std::size_t k = 0; k < std::min<std::size_t>(modes.size(), 3); ++k)
    if (Fit fit = Trial(suspects, evidence, blamed).from(modes[k].z); fit.sum < best.sum) best = std::move(fit);

  // The line as it was found, but for the blamed being sound.
  std::vector<double> cleared = best.x;
  double leak = 0.0;
  for (std::size_t k = 0; k < n; ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    if (unknown.element != blamed || !fault(unknown)) continue;
    if (unknown.what == What::leak) leak = unknown.prior.at(best.x[k]) * suspects.leak_at_one[blamed];
    cleared[k] = unknown.prior.z_of(unknown.what == What::leak ? sound * unknown.prior.at(best.x[k]) : 1.0);
  }
  std::vector<Rival> rivals;
  for (std::size_t i = 0; i < suspects.line.elements.size(); ++i) {
    if (i == blamed) continue;
    Trial trial(suspects, evidence, i);
    for (std::size_t k = 0; k < n; ++k)
      if (suspects.unknowns[k].element == blamed && fault(suspects.unknowns[k])) trial.hold(k);
    Rival rival{i, {}, 1e300, {}};
    Fit found;
    for (std::size_t k = 0; k < n; ++k) {
      const Unknown& unknown = suspects.unknowns[k];
      if (unknown.element != i || !fault(unknown)) continue;
      for (double guess : first_guesses(suspects, unknown, leak)) {
        std::vector<double> start = cleared;
        start[k] = std::clamp(unknown.prior.z_of(guess), -furthest, furthest);
        Fit fit = trial.from(start);
        if (!(fit.sum - best.sum < rival.worse)) continue;
        rival = {i, fit.x, fit.sum - best.sum, {}};
        found = std::move(fit);
      }
    }
    // That the fit needs the element, and not something else that took the fault upon itself.
    if (!(rival.worse < parted) || costs_of(suspects, {rival.z}, tips).worst.front() != i) continue;
    rival.draws = trial.draws(found, i + 1);
    rivals.push_back(std::move(rival));
  }
  std::sort(rivals.begin(), rivals.end(), [](const Rival& a, const Rival& b) { return a.worse < b.worse; });
  return rivals;
}

Beliefs with_rivals(const Beliefs& beliefs, const std::vector<Rival>& rivals) {
  // As many of each side, so that none is lost when the tests are screened on a part of them.
  const std::size_t each = draws_each * rivals.size(), count = std::min(each, beliefs.z.size());
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

void keep_blamed(NextTest& test, std::size_t blamed) {
  test.parts_rivals = true;
  std::erase_if(test.information.outcomes, [&](const Outcome& outcome) { return outcome.element != blamed; });
  double likeliest = 0.0;
  for (const Outcome& outcome : test.information.outcomes) {
    if (outcome.chance <= likeliest) continue;
    likeliest = outcome.chance;
    test.expected = 0.5 * (outcome.low + outcome.high);
  }
}

}  // namespace airtally::hunt
