#include <algorithm>

#include "hunt/beliefs/way.hpp"
#include "hunt/findings_private.hpp"
#include "hunt/judgement.hpp"
#include "hunt/samples/weighted.hpp"
#include "hunt/verdict/before.hpp"
#include "hunt/verdict/look_alikes.hpp"
#include "hunt/verdict/trial_private.hpp"

// What is believed of each element, put in numbers.

namespace airtally::hunt {
namespace {

/// Something of some elements that are alike, all their samples together: what is believed of each of them.
class Pooled {
 public:
  explicit Pooled(const Beliefs& beliefs) : beliefs_(&beliefs) {}

  /// `of(s)` is it in sample s.
  template <class Of>
  void add(const Of& of) {
    for (std::size_t s = 0; s < beliefs_->z.size(); ++s) {
      values_.push_back(of(s));
      weights_.push_back(beliefs_->weight[s]);
    }
  }
  Interval interval() const { return interval_of(values_, weights_); }
  /// Share of the weight where it is above 0 [-].
  double above_zero() const {
    double sum = 0.0, total = 0.0;
    for (std::size_t i = 0; i < values_.size(); ++i) {
      sum += values_[i] > 0.0 ? weights_[i] : 0.0;
      total += weights_[i];
    }
    return sum / total;
  }

 private:
  const Beliefs* beliefs_;
  std::vector<double> values_, weights_;
};

/// Whether any reading depends on the element: none of its unknowns has left its prior at any peak.
bool only_prior(const Suspects& suspects, const std::vector<Mode>& modes, std::size_t element) {
  const std::size_t n = suspects.unknowns.size();
  for (std::size_t k = 0; k < n; ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    if (unknown.element != element || !fault(unknown)) continue;
    for (const Mode& mode : modes)
      if (mode.precision[k * n + k] > 1.0 + 1e-6) return false;
  }
  return true;
}

/// How surely one of some elements is worse than filed, or lets through less than half of that.
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

}  // namespace

void find_elements(const Suspects& suspects, const Beliefs& beliefs, const std::vector<Mode>& modes, Hunt& result) {
  std::vector<double> probability(suspects.line.elements.size(), 0.0);
  for (std::size_t s = 0; s < beliefs.z.size(); ++s) probability[beliefs.costs.worst[s]] += beliefs.weight[s];
  // Samples tell elements apart that nothing else does; their mean is nearer the truth.
  for (const std::vector<std::size_t>& group : result.alike) {
    double sum = 0.0;
    for (const std::size_t i : group) sum += probability[i];
    for (const std::size_t i : group) probability[i] = sum / static_cast<double>(group.size());
  }
  std::vector<std::vector<double>> values;  // per sample
  for (const std::vector<double>& z : beliefs.z) values.push_back(suspects.values(z));
  for (std::size_t i = 0; i < probability.size(); ++i) {
    Finding finding;
    finding.element = i;
    finding.worst_probability = probability[i];
    finding.only_prior = only_prior(suspects, modes, i);
    Pooled cost(beliefs), excess(beliefs), open(beliefs);
    for (const std::size_t one : like(result, i)) {
      cost.add([&](std::size_t s) { return beliefs.costs.gain[s][one]; });
      excess.add([&](std::size_t s) { return beliefs.costs.excess[s][one]; });
      open.add([&](std::size_t s) { return way_through(suspects, one, values[s]).value_or(1.0); });
    }
    if (const auto filed = filed_way(suspects, i)) {
      finding.filed_open = *filed;
      finding.open_fraction = open.interval();
    }
    finding.cost = cost.interval();
    finding.excess = excess.interval();
    finding.amiss = excess.above_zero();
    result.elements.push_back(std::move(finding));
  }
  for (const Unknown& unknown : suspects.unknowns) {
    const double unit = unknown.what == What::leak ? suspects.leak_at_one[unknown.element] : 1.0;
    Pooled pooled(beliefs);
    for (const std::size_t one : like(result, unknown.element))
      for (std::size_t k = 0; k < suspects.unknowns.size(); ++k)
        if (suspects.unknowns[k].element == one && suspects.unknowns[k].same_of_another(unknown))
          pooled.add([&](std::size_t s) { return unit * unknown.prior.at(beliefs.z[s][k]); });
    const Interval interval = pooled.interval();
    if (unknown.what == What::leak) {
      result.elements[unknown.element].leak = interval;
      result.elements[unknown.element].filed_leak = unit * unknown.filed();
    } else if (unknown.what == What::bore) {
      const double filed = long_bore(suspects.line.elements[unknown.element])->bore.value;
      result.elements[unknown.element].bore =
          Interval{filed * interval.median, filed * interval.low, filed * interval.high};
    } else if (unknown.what != What::blockage) {
      result.others.push_back({unknown, interval});
    }
  }
  std::stable_sort(result.elements.begin(), result.elements.end(), [](const Finding& a, const Finding& b) {
    return std::pair(a.worst_probability, a.cost.median) > std::pair(b.worst_probability, b.cost.median);
  });
  // A dozen that are alike are in question together, however little each is.
  for (const std::vector<std::size_t>& group : result.alike)
    for (const std::size_t i : group) probability[i] *= static_cast<double>(group.size());
  for (std::vector<std::size_t>& group : look_alikes(beliefs.costs, probability, beliefs.weight))
    result.look_alikes.push_back({std::move(group), {}});
}

/// Of the elements that are not surely amiss themselves the few of which one surely is: each brings most of what those
/// before it leave open.
void find_among(const Suspects& suspects, const Beliefs& beliefs, const std::vector<solve::TipState>& tips,
                Hunt& result) {
  constexpr std::size_t most = 8;
  if (result.prior_only) return;
  std::vector<std::size_t> left;
  for (const Finding& finding : result.elements) left.push_back(finding.element);
  for (const Finding& finding : amiss(result)) std::erase(left, finding.element);
  Any any(beliefs);
  std::vector<std::size_t> among;
  const auto add_from = [&](std::vector<std::size_t> some) {
    while (!some.empty() && among.size() < most && any.worse() < enough_for_verdict) {
      std::vector<double> with;
      for (std::size_t element : some) {
        Any more = any;
        more.add(element);
        with.push_back(more.worse());
      }
      const auto best = std::max_element(with.begin(), with.end());
      if (!(*best > any.worse())) return;
      among.push_back(some[static_cast<std::size_t>(best - with.begin())]);
      any.add(among.back());
      std::erase(some, among.back());
    }
  };
  // Those between whom the worst is in question first: two lists of suspects would be one too many.
  const std::size_t first = result.elements.front().element;
  for (const LookAlikes& group : result.look_alikes) {
    if (std::find(group.elements.begin(), group.elements.end(), first) == group.elements.end()) continue;
    std::vector<std::size_t> some = left;
    std::erase_if(some, [&](std::size_t i) {
      return std::find(group.elements.begin(), group.elements.end(), i) == group.elements.end();
    });
    add_from(some);
  }
  std::erase_if(left, [&](std::size_t i) { return std::find(among.begin(), among.end(), i) != among.end(); });
  add_from(left);
  // Common wear of a dozen adds up to as much: the readings must have made it less likely that it is none of them.
  constexpr double speaks = 4.0, unsound = 2.0;
  const auto sounder_before = [&](const Any& some, const std::vector<std::size_t>& elements) {
    return (1.0 - chance_before(suspects, beliefs.z, beliefs.weight, tips, elements)) /
           std::max(1.0 - some.worse(), 1e-9);
  };
  if (any.worse() >= enough_for_verdict && sounder_before(any, among) >= speaks) {
    result.amiss_among = among;
    result.among_excess = interval_of(any.excess(), beliefs.weight);
    result.among_shut = any.shut_chance();
    return;
  }
  if (!amiss(result).empty()) return;
  Any whole(beliefs);
  std::vector<std::size_t> all;
  for (const Finding& finding : result.elements) {
    all.push_back(finding.element);
    whole.add(finding.element);
  }
  if (whole.worse() > 0.5 && sounder_before(whole, all) >= unsound) result.unsound = whole.worse();
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

}  // namespace airtally::hunt
