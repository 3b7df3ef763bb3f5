#include "hunt/next_test.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <tuple>

#include "errors.hpp"
#include "hunt/weighted.hpp"
#include "line/topology.hpp"
#include "study/parallel.hpp"

namespace airtally::hunt {
namespace {

using line::Kind;
using solve::TipState;

constexpr std::size_t screening = 96;  ///< samples that all tests are tried on
constexpr std::size_t finalists = 12;  ///< tests that are tried on all samples
constexpr double alike = 0.05;         ///< bits that make no difference

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

/// All tests of one setting share its solves.
void weigh(const Suspects& suspects, const Bench& bench, const Beliefs& beliefs, const Chosen& chosen,
           std::span<NextTest*> tests, bool with_outcomes) {
  Rig rig(suspects, line::topology(suspects.line), tests.front()->setting);
  std::vector<std::vector<double>> predicted(tests.size());
  std::vector<double> weight;
  std::vector<std::size_t> worst;
  for (std::size_t i = 0; i < chosen.index.size(); ++i) {
    const std::vector<double> values = suspects.values(beliefs.z[chosen.index[i]]);
    try {
      rig.solve(values);
    } catch (const NoConvergence&) {
      continue;  // this sample says nothing about this test
    }
    weight.push_back(chosen.weight[i]);
    worst.push_back(chosen.worst[i]);
    for (std::size_t t = 0; t < tests.size(); ++t)
      predicted[t].push_back(rig.read(tests[t]->instrument, tests[t]->at, values));
  }
  const double total = std::accumulate(weight.begin(), weight.end(), 0.0);
  if (!(total > 0.0)) return;
  for (double& w : weight) w /= total;
  for (std::size_t t = 0; t < tests.size(); ++t) {
    const double noise = meter_at(suspects.line, bench, tests[t]->instrument, tests[t]->at).noise();
    tests[t]->information =
        information_of(predicted[t], worst, weight, noise, suspects.line.elements.size(), with_outcomes);
    tests[t]->expected = weighted_quantile(predicted[t], weight, 0.5);
  }
}

void weigh_all(const Suspects& suspects, const Bench& bench, const Beliefs& beliefs, const Chosen& chosen,
               std::vector<NextTest>& tests, bool with_outcomes) {
  std::vector<std::vector<NextTest*>> settings;
  for (NextTest& test : tests) {
    const auto same = std::find_if(settings.begin(), settings.end(),
                                   [&](const auto& of) { return of.front()->setting == test.setting; });
    (same == settings.end() ? settings.emplace_back() : *same).push_back(&test);
  }
  study::parallel(settings.size(), study::processors(),
                  [&](std::size_t s) { weigh(suspects, bench, beliefs, chosen, settings[s], with_outcomes); });
}

void put_in_order(std::vector<NextTest>& tests) {
  // Bits in steps of `alike`, so that the order is one: within a step the effort decides, then the simpler end.
  const auto key = [](const NextTest& test) {
    return std::tuple(-std::floor(test.information.bits / alike + 0.5), test.effort, test.setting.hole > 0.0,
                      -test.information.bits);
  };
  std::stable_sort(tests.begin(), tests.end(), [&](const NextTest& a, const NextTest& b) { return key(a) < key(b); });
}

}  // namespace

std::vector<NextTest> possible_tests(const Suspects& suspects, const std::vector<TipState>& usual) {
  const line::Line& line = suspects.line;
  std::vector<Setting> settings;
  for (TipState state : {TipState::open, TipState::part, TipState::blocked})
    if (state != TipState::part || line.part) settings.push_back({{}, 0.0, std::vector<TipState>(usual.size(), state)});
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    if (line.elements[i].kind == Kind::plug) continue;
    if (line.elements[i].kind == Kind::nozzle && usual.size() == 1)
      continue;  // the tip blocked, which is there already
    settings.push_back({i, 0.0, usual});
    for (double drill : drills) settings.push_back({i, drill, usual});
  }
  std::vector<std::pair<Instrument, std::size_t>> instruments;
  for (std::size_t i : gauges(line)) instruments.emplace_back(Instrument::vacuum, i);
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].pump && !line.elements[i].pump->current.empty())
      instruments.emplace_back(Instrument::current, i);
  std::vector<NextTest> tests;
  const line::Topology topology = line::topology(line);
  for (const Setting& setting : settings) {
    const std::vector<std::size_t> index = cut(line, topology, setting).index;
    for (const auto& [instrument, at] : instruments)
      if (index[at] != line::none)
        tests.push_back(
            {setting, instrument, at, setting.cap ? line.elements[*setting.cap].effort : 0.0, false, 0.0, {}});
  }
  return tests;
}

std::vector<NextTest> next_tests(const Suspects& suspects, const Bench& bench, const Beliefs& beliefs,
                                 std::vector<NextTest> tests, std::size_t most, const std::vector<std::size_t>& only) {
  const Chosen few = choose(beliefs, only, screening);
  if (few.index.empty()) return {};
  weigh_all(suspects, bench, beliefs, few, tests, false);
  put_in_order(tests);
  tests.resize(std::min(tests.size(), std::max(finalists, most)));
  weigh_all(suspects, bench, beliefs, choose(beliefs, only, beliefs.z.size()), tests, true);
  put_in_order(tests);
  tests.resize(std::min(tests.size(), most));
  return tests;
}

}  // namespace airtally::hunt
