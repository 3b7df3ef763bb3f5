#include "hunt/hunt.hpp"

#include <algorithm>
#include <cmath>

#include "hunt/propose_private.hpp"
#include "hunt/readings/cut.hpp"
#include "hunt/samples/weighted.hpp"
#include "hunt/verdict/instead.hpp"
#include "hunt/verdict/look_alikes.hpp"
#include "hunt/verdict/mistaken.hpp"
#include "hunt/verdict/rivals.hpp"
#include "solve/answer.hpp"

namespace airtally::hunt {
namespace {

constexpr double unbelievable = 1e-3;  ///< chance of such a misfit, below which no verdict is given
constexpr double agreed = 0.8;         ///< chance that each population must give the verdict

Interval interval_of(const std::vector<double>& values, const std::vector<double>& weight) {
  const auto quantile = [&](double share) { return weighted_quantile(values, weight, share); };
  return {quantile(0.5), quantile(0.05), quantile(0.95)};
}

std::vector<double> each(const Beliefs& beliefs, const std::function<double(const std::vector<double>&)>& of) {
  std::vector<double> values;
  for (const std::vector<double>& z : beliefs.z) values.push_back(of(z));
  return values;
}

/// Samples of the posterior; from the prior itself when nothing was read.
Beliefs beliefs_of(const Suspects& suspects, Evidence& evidence, const Bench& bench, const std::vector<Mode>& modes,
                   const HuntOptions& options, std::vector<std::size_t>& population, Hunt& result) {
  result.quick = options.quick && evidence.size() > 0;
  SampleOptions sampling = options.sampling;
  if (options.quick) {
    sampling = quick_options(options.sampling.seed);
    sampling.progress = options.sampling.progress;
  }
  Samples samples = evidence.size() == 0 ? prior_sample(suspects, sampling.count, sampling.seed)
                                         : sample(suspects, evidence.readings(), bench, modes, sampling);
  result.effective = samples.effective;
  result.r_hat = samples.r_hat;
  result.converged = samples.converged();
  result.samples = samples.z.size();
  Beliefs beliefs;
  for (std::size_t s = 0; s < samples.z.size(); ++s) {
    if (!(samples.weight[s] > 0.0)) continue;
    population.push_back(s * samples.populations / samples.z.size());
    beliefs.z.push_back(std::move(samples.z[s]));
    beliefs.weight.push_back(samples.weight[s]);
  }
  if (beliefs.z.empty()) throw NoConvergence("No state of the line that was drawn for these readings can be solved.");
  return beliefs;
}

/// Whether any reading depends on the element: none of its unknowns has left its prior at any peak.
bool only_prior(const Suspects& suspects, const std::vector<Mode>& modes, std::size_t element) {
  const std::size_t n = suspects.unknowns.size();
  for (std::size_t k = 0; k < n; ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    if (unknown.element != element || unknown.what == What::offset || unknown.what == What::seal) continue;
    for (const Mode& mode : modes)
      if (mode.precision[k * n + k] > 1.0 + 1e-6) return false;
  }
  return true;
}

void find_elements(const Suspects& suspects, const Beliefs& beliefs, const std::vector<Mode>& modes, Hunt& result) {
  std::vector<double> probability(suspects.line.elements.size(), 0.0);
  for (std::size_t s = 0; s < beliefs.z.size(); ++s) probability[beliefs.costs.worst[s]] += beliefs.weight[s];
  for (std::size_t i = 0; i < probability.size(); ++i) {
    Finding finding;
    finding.element = i;
    finding.worst_probability = probability[i];
    finding.only_prior = only_prior(suspects, modes, i);
    std::vector<double> cost;
    for (const std::vector<double>& gain : beliefs.costs.gain) cost.push_back(gain[i]);
    finding.cost = interval_of(cost, beliefs.weight);
    std::vector<double> excess;
    for (std::size_t s = 0; s < beliefs.z.size(); ++s) {
      excess.push_back(beliefs.costs.excess[s][i]);
      if (excess.back() > 0.0) finding.amiss += beliefs.weight[s];
    }
    finding.excess = interval_of(excess, beliefs.weight);
    result.elements.push_back(std::move(finding));
  }
  for (std::size_t k = 0; k < suspects.unknowns.size(); ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    const double unit = unknown.what == What::leak ? suspects.leak_at_one[unknown.element] : 1.0;
    const Interval interval = interval_of(
        each(beliefs, [&](const std::vector<double>& z) { return unit * unknown.prior.at(z[k]); }), beliefs.weight);
    if (unknown.what == What::leak) {
      result.elements[unknown.element].leak = interval;
      result.elements[unknown.element].filed_leak = unit * unknown.filed();
    } else if (unknown.what == What::blockage) {
      result.elements[unknown.element].open_fraction = interval;
      result.elements[unknown.element].filed_open = unknown.filed();
    } else {
      result.others.push_back({unknown, interval});
    }
  }
  std::stable_sort(result.elements.begin(), result.elements.end(), [](const Finding& a, const Finding& b) {
    return std::pair(a.worst_probability, a.cost.median) > std::pair(b.worst_probability, b.cost.median);
  });
  for (std::vector<std::size_t>& group : look_alikes(beliefs.costs, probability, beliefs.weight))
    result.look_alikes.push_back({std::move(group), {}});
}

/// How surely one of some elements is worse than filed, or more than half shut.
class Any {
 public:
  explicit Any(const Beliefs& beliefs)
      : beliefs_(&beliefs), excess_(beliefs.z.size(), 0.0), worse_(excess_.size()), shut_(excess_.size()) {}

  void add(std::size_t element) {
    for (std::size_t s = 0; s < excess_.size(); ++s) {
      const double its = beliefs_->costs.excess[s][element];
      const bool closed = beliefs_->costs.open[s][element] < shut;
      excess_[s] = std::max(excess_[s], its);
      shut_[s] = shut_[s] || closed;
      worse_[s] = worse_[s] || closed || its > 0.0;
    }
  }
  double worse() const { return chance(worse_); }
  double shut_chance() const { return chance(shut_); }
  const std::vector<double>& excess() const { return excess_; }

 private:
  double chance(const std::vector<bool>& event) const {
    double sum = 0.0;
    for (std::size_t s = 0; s < event.size(); ++s) sum += event[s] ? beliefs_->weight[s] : 0.0;
    return sum;
  }

  const Beliefs* beliefs_;
  std::vector<double> excess_;
  std::vector<bool> worse_, shut_;
};

/// Of the elements that are not surely amiss themselves the few of which one surely is.
void find_among(const Beliefs& beliefs, Hunt& result) {
  constexpr std::size_t most = 8;
  if (result.prior_only) return;
  const std::vector<Finding> surely = amiss(result);
  std::vector<std::pair<double, std::size_t>> order;
  for (const Finding& finding : result.elements) {
    const auto same = [&](const Finding& other) { return other.element == finding.element; };
    if (std::any_of(surely.begin(), surely.end(), same)) continue;
    Any alone(beliefs);
    alone.add(finding.element);
    order.emplace_back(alone.worse(), finding.element);
  }
  std::stable_sort(order.begin(), order.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  Any any(beliefs);
  std::vector<std::size_t> among;
  for (std::size_t k = 0; k < std::min(most, order.size()); ++k) {
    among.push_back(order[k].second);
    any.add(among.back());
    if (any.worse() < enough_for_verdict) continue;
    result.amiss_among = among;
    result.among_excess = interval_of(any.excess(), beliefs.weight);
    result.among_shut = any.shut_chance();
    return;
  }
}

/// The least chance that any population gives the element.
double agreement(const Beliefs& beliefs, const std::vector<std::size_t>& population, std::size_t element) {
  std::vector<double> all(population.empty() ? 0 : population.back() + 1, 0.0), its = all;
  for (std::size_t s = 0; s < population.size(); ++s) {
    all[population[s]] += beliefs.weight[s];
    if (beliefs.costs.worst[s] == element) its[population[s]] += beliefs.weight[s];
  }
  double least = 1.0;
  for (std::size_t p = 0; p < all.size(); ++p) least = std::min(least, all[p] > 0.0 ? its[p] / all[p] : 0.0);
  return least;
}

void compare(const Beliefs& beliefs, Evidence& evidence, Hunt& result) {
  std::vector<std::vector<double>> predicted(evidence.size());
  std::vector<double> r(evidence.size()), weight;
  for (std::size_t s = 0; s < beliefs.z.size(); ++s) {
    if (!evidence.evaluate(beliefs.z[s], r, {})) continue;
    weight.push_back(beliefs.weight[s]);
    for (std::size_t i = 0; i < r.size(); ++i)
      predicted[i].push_back(evidence.readings()[i].value + r[i] * evidence.noise()[i]);
  }
  for (std::size_t i = 0; i < r.size(); ++i)
    result.readings.push_back({evidence.readings()[i], interval_of(predicted[i], weight)});
}

}  // namespace

std::vector<Finding> amiss(const Hunt& hunt) {
  std::vector<Finding> all;
  for (const Finding& finding : hunt.elements)
    if (finding.amiss >= enough_for_verdict ||
        (finding.open_fraction && finding.open_fraction->high < shut * finding.filed_open))
      all.push_back(finding);
  std::stable_sort(all.begin(), all.end(),
                   [](const Finding& a, const Finding& b) { return a.excess.median > b.excess.median; });
  return all;
}

bool off_file(const Hunt& hunt, const Finding& finding) {
  constexpr double several = 3.0, most_open = 0.8;
  if (hunt.prior_only || finding.only_prior) return false;
  for (const Nuisance& n : hunt.others) {
    const bool wear = n.unknown.what == What::pump_flow || n.unknown.what == What::pump_vacuum;
    if (wear && n.unknown.element == finding.element && n.value.high < most_open * n.unknown.filed()) return true;
  }
  return finding.leak.low > several * finding.filed_leak ||
         (finding.open_fraction && finding.open_fraction->high < most_open * finding.filed_open);
}

bool nothing_much(const Hunt& hunt) { return hunt.elements.front().cost.high < notable * hunt.tip_vacuum; }

bool still_among(const Hunt& hunt) { return verdict(hunt) == Verdict::sure && hunt.amiss_among.size() > 1; }

Verdict verdict(const Hunt& hunt) {
  const Finding& first = hunt.elements.front();
  if (hunt.prior_only || first.only_prior || first.worst_probability < enough_for_verdict) return Verdict::unsure;
  if (hunt.quality.chance < unbelievable) return Verdict::unexplained;
  if (hunt.effective < fewest_for_verdict || hunt.agreement < agreed) return Verdict::unsettled;
  return hunt.rivals.empty() ? Verdict::sure : Verdict::rivalled;
}

Hunt hunt(const line::Line& line, const Readings& as_given, const HuntOptions& options) {
  Hunt result;
  Readings readings = as_given;
  for (Reading& reading : readings.list)  // a loose gauge is in what blocks a capped nozzle
    if (reading.instrument != Instrument::plugged)
      reading.setting = as_compared(line, line::topology(line), std::move(reading.setting));
  const Suspects all = suspects(line, readings.bench);
  const std::vector<solve::TipState> tips = options.tips.empty() ? solve::usual_tips(line) : options.tips;
  std::vector<Reading> possible = readings.list;
  result.set_aside = set_aside_impossible(line, readings.bench, possible);
  result.prior_only = possible.empty();
  result.remarks = readings.remarks;
  Evidence evidence(all, possible, readings.bench);
  const std::vector<Mode> modes = find_modes(all, evidence);
  result.peaks = modes.size();
  for (std::string& sentence : mistaken(all, possible, readings.bench, modes))
    result.remarks.push_back(std::move(sentence));
  const auto best =
      std::min_element(modes.begin(), modes.end(), [](const Mode& a, const Mode& b) { return a.misfit < b.misfit; });
  result.quality = quality_of(*best, evidence);
  std::vector<std::size_t> population;  // of each sample
  Beliefs beliefs = beliefs_of(all, evidence, readings.bench, modes, options, population, result);
  beliefs.costs = costs_of(all, beliefs.z, tips);
  result.tip_vacuum = weighted_quantile(beliefs.costs.tip_vacuum, beliefs.weight, 0.5);
  find_elements(all, beliefs, modes, result);
  result.agreement = agreement(beliefs, population, result.elements.front().element);
  compare(beliefs, evidence, result);
  for (Finding& finding : result.elements)
    if (finding.amiss >= enough_for_verdict && !result.prior_only && !result.quick)
      finding.instead = instead_of(all, evidence, modes, finding.element);
  find_among(beliefs, result);
  Found found{all, evidence, readings, modes, tips, std::move(beliefs), {}, {}};
  const std::size_t first = result.elements.front().element;
  if (verdict(result) == Verdict::sure) found.rivals = rivals_of(all, evidence, modes, tips, first);
  for (const Rival& rival : found.rivals) result.rivals.push_back(rival.element);
  if (options.next == 0) return result;
  if (!result.prior_only && verdict(result) == Verdict::unsure)
    found.hidden = rivals_of(all, evidence, modes, tips, first, true);
  std::erase_if(found.hidden, [&](const Rival& one) {  // what is off the file has shown
    return off_file(result, *std::find_if(result.elements.begin(), result.elements.end(),
                                          [&](const Finding& finding) { return finding.element == one.element; }));
  });
  for (const Rival& one : found.hidden) result.hidden.push_back(one.element);
  propose(found, options, result);
  const bool stuck = !result.prior_only && verdict(result) != Verdict::sure && !further_test(result);
  if (stuck) result.with_plug_gauge = with_plug_gauge(line, found, options, result);
  return result;
}

}  // namespace airtally::hunt
