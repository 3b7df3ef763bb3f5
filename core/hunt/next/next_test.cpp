#include "hunt/next/next_test.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <tuple>

#include "errors.hpp"
#include "hunt/beliefs/plate.hpp"
#include "hunt/next/by_chance.hpp"
#include "hunt/samples/normals_private.hpp"
#include "hunt/samples/weighted.hpp"
#include "line/topology.hpp"
#include "study/parallel.hpp"

namespace airtally::hunt {
namespace {

constexpr std::size_t screening = 96;   ///< samples that all tests are tried on
constexpr double no_difference = 0.05;  ///< bits that make no difference

/// Samples that count: those in which one of `only` is the worst, weights adding up to 1; thinned to `count`.
struct Chosen {
  std::vector<std::size_t> index;
  std::vector<double> weight;
  std::vector<std::size_t> worst;
};

Chosen choose(const Beliefs& beliefs, const std::vector<std::size_t>& only, std::size_t count) {
  std::vector<std::size_t> candidates;
  for (std::size_t s = 0; s < beliefs.z.size(); ++s)
    if (beliefs.weight[s] > 0.0 &&
        (only.empty() || std::find(only.begin(), only.end(), beliefs.costs.worst[s]) != only.end()))
      candidates.push_back(s);
  Chosen chosen;
  const std::size_t wanted = std::min(count, candidates.size());
  double sum = 0.0;
  for (std::size_t i = 0; i < wanted; ++i) {
    const std::size_t s = candidates[i * candidates.size() / wanted];
    chosen.index.push_back(s);
    chosen.weight.push_back(beliefs.weight[s]);
    chosen.worst.push_back(beliefs.costs.worst[s]);
    sum += beliefs.weight[s];
  }
  for (double& w : chosen.weight) w /= sum;
  return chosen;
}

/// What the samples that can be solved in a test's setting predict for its dials.
struct Predicted {
  std::vector<std::vector<double>> reading;  ///< per dial, per sample
  std::vector<double> weight;                ///< adding up to 1
  std::vector<std::size_t> worst;
};

Predicted predict(const Suspects& suspects, const Bench& bench, const Beliefs& beliefs, const Chosen& chosen,
                  const NextTest& test) {
  Rig rig(suspects, line::topology(suspects.line), test.setting);
  const Prior of_plate = plate_prior(bench);
  Normals normals(1);  // the same for all tests, so that chance prefers none
  Predicted predicted{std::vector<std::vector<double>>(test.dials.size()), {}, {}};
  for (std::size_t i = 0; i < chosen.index.size(); ++i) {
    const std::vector<double> values = suspects.values(beliefs.z[chosen.index[i]]);
    try {
      if (rig.has_new_plate()) rig.set_new_plate(of_plate.at(normals.normal()));
      rig.solve(values);
    } catch (const NoConvergence&) {
      continue;  // this sample says nothing about this test
    } catch (const DomainError&) {
      continue;  // nor does one far out in a prior's tail
    }
    predicted.weight.push_back(chosen.weight[i]);
    predicted.worst.push_back(chosen.worst[i]);
    for (std::size_t d = 0; d < test.dials.size(); ++d)
      predicted.reading[d].push_back(rig.read(test.dials[d].instrument, test.dials[d].at, values));
  }
  const double total = std::accumulate(predicted.weight.begin(), predicted.weight.end(), 0.0);
  if (total > 0.0)
    for (double& w : predicted.weight) w /= total;
  return predicted;
}

/// Puts the most telling dial first, and behind it those that tell more in turn.
class Dials {
 public:
  Dials(const Suspects& suspects, const Bench& bench, Predicted predicted, NextTest& test)
      : elements_(suspects.line.elements.size()), predicted_(std::move(predicted)), test_(&test) {
    for (Dial& dial : test.dials) {
      const Meter meter = meter_at(suspects.line, bench, dial.instrument, dial.at);
      noise_.push_back(meter.noise());
      dial.step = meter.resolution;
    }
  }

  /// `sparing`: of the others those alone that tell more than `no_difference`; or else all of them.
  void choose(bool sparing) {
    std::vector<std::size_t> left(test_->dials.size());
    std::iota(left.begin(), left.end(), 0);
    std::vector<double> alone;
    for (std::size_t d : left) alone.push_back(information(d, false).bits);
    const auto first = std::max_element(alone.begin(), alone.end()) - alone.begin();
    std::vector<std::size_t> taken{left[static_cast<std::size_t>(first)]};
    left.erase(left.begin() + first);
    test_->information = information(taken.front(), sparing);
    double more = 0.0;
    if (!sparing && !left.empty()) {
      taken.insert(taken.end(), left.begin(), left.end());
      more = beyond_first(taken);
    }
    while (sparing && !left.empty()) {
      std::vector<double> gain;
      for (std::size_t d : left) {
        std::vector<std::size_t> with = taken;
        with.push_back(d);
        gain.push_back(beyond_first(with));
      }
      const auto best = std::max_element(gain.begin(), gain.end());
      if (*best < more + no_difference) break;
      more = *best;
      taken.push_back(left[static_cast<std::size_t>(best - gain.begin())]);
      left.erase(left.begin() + (best - gain.begin()));
    }
    test_->information.bits += more;
    if (sparing) test_->information.bits = without_chance(taken, test_->information.bits);
    std::vector<Dial> dials;
    for (std::size_t d : taken) {
      dials.push_back(test_->dials[d]);
      dials.back().expected = weighted_quantile(predicted_.reading[d], predicted_.weight, 0.5);
    }
    test_->dials = std::move(dials);
  }

 private:
  Information information(std::size_t dial, bool with_outcomes) const {
    return information_of(predicted_.reading[dial], predicted_.worst, predicted_.weight, noise_[dial], elements_,
                          with_outcomes);
  }
  double beyond_first(const std::vector<std::size_t>& dials) const {
    const auto [readings, noise] = of(dials);
    return bits_beyond_first(readings, predicted_.worst, predicted_.weight, noise, elements_);
  }
  double without_chance(const std::vector<std::size_t>& dials, double bits) const {
    const auto [readings, noise] = of(dials);
    return beyond_chance(readings, predicted_.worst, predicted_.weight, noise, elements_, bits);
  }
  std::pair<std::vector<std::vector<double>>, std::vector<double>> of(const std::vector<std::size_t>& dials) const {
    std::vector<std::vector<double>> readings;
    std::vector<double> noise;
    for (std::size_t d : dials) {
      readings.push_back(predicted_.reading[d]);
      noise.push_back(noise_[d]);
    }
    return {std::move(readings), std::move(noise)};
  }

  std::size_t elements_;
  Predicted predicted_;
  NextTest* test_;
  std::vector<double> noise_;
};

void weigh_all(const Suspects& suspects, const Bench& bench, const Beliefs& beliefs, const Chosen& chosen,
               std::vector<NextTest>& tests, bool sparing) {
  study::parallel(tests.size(), study::processors(), [&](std::size_t t) {
    Predicted predicted = predict(suspects, bench, beliefs, chosen, tests[t]);
    if (!predicted.weight.empty()) Dials(suspects, bench, std::move(predicted), tests[t]).choose(sparing);
  });
}

void put_in_order(std::vector<NextTest>& tests) {
  // Bits in steps of `no_difference`, so that the order is one: within a step the effort decides, then the simpler end.
  const auto key = [](const NextTest& test) {
    return std::tuple(-std::floor(test.information.bits / no_difference + 0.5), test.effort, test.setting.hole > 0.0,
                      -test.information.bits);
  };
  std::stable_sort(tests.begin(), tests.end(), [&](const NextTest& a, const NextTest& b) { return key(a) < key(b); });
}

}  // namespace

std::vector<NextTest> next_tests(const Suspects& suspects, const Bench& bench, const Beliefs& beliefs,
                                 std::vector<NextTest> tests, std::size_t most, const std::vector<std::size_t>& only) {
  const Chosen few = choose(beliefs, only, screening);
  if (few.index.empty()) return {};
  weigh_all(suspects, bench, beliefs, few, tests, false);
  put_in_order(tests);
  const std::size_t count = std::min(tests.size(), finalists);
  std::vector<NextTest> best(tests.begin(), tests.begin() + static_cast<std::ptrdiff_t>(count));
  weigh_all(suspects, bench, beliefs, choose(beliefs, only, beliefs.z.size()), best, true);
  put_in_order(best);
  best.insert(best.end(), tests.begin() + static_cast<std::ptrdiff_t>(count), tests.end());
  best.resize(std::min(best.size(), most));
  return best;
}

void expect(const Suspects& suspects, const Bench& bench, const Beliefs& beliefs, std::vector<NextTest>& tests) {
  const Chosen few = choose(beliefs, {}, screening);
  if (few.index.empty()) return;
  study::parallel(tests.size(), study::processors(), [&](std::size_t t) {
    const Predicted predicted = predict(suspects, bench, beliefs, few, tests[t]);
    for (std::size_t d = 0; d < tests[t].dials.size() && !predicted.weight.empty(); ++d)
      tests[t].dials[d].expected = weighted_quantile(predicted.reading[d], predicted.weight, 0.5);
  });
}

}  // namespace airtally::hunt
