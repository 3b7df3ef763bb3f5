#include "hunt/hunt.hpp"

#include <algorithm>
#include <cmath>

#include "hunt/beliefs/plate.hpp"
#include "hunt/findings_private.hpp"
#include "hunt/judgement.hpp"
#include "hunt/propose_private.hpp"
#include "hunt/readings/contradicting.hpp"
#include "hunt/readings/cut.hpp"
#include "hunt/samples/weighted.hpp"
#include "hunt/verdict/alike.hpp"
#include "hunt/verdict/instead.hpp"
#include "hunt/verdict/mistaken.hpp"
#include "hunt/verdict/rivals.hpp"
#include "solve/answer.hpp"

namespace airtally::hunt {
namespace {

/// Samples of the posterior; from the prior itself when nothing was read.
Beliefs beliefs_of(const Suspects& suspects, Evidence& evidence, const Bench& bench, const std::vector<Mode>& modes,
                   const HuntOptions& options, std::vector<std::size_t>& population, Hunt& result) {
  // Where no state of the line explains the readings there is no verdict, and a long search comes to none.
  result.quick = evidence.size() > 0 && (options.quick || result.quality.chance < unbelievable);
  SampleOptions sampling = options.sampling;
  if (result.quick) {
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

}  // namespace

Hunt hunt(const line::Line& line, const Readings& as_given, const HuntOptions& options) {
  Hunt result;
  Readings readings = as_given;
  for (Reading& reading : readings.list) {
    const std::optional<std::size_t> cap = reading.setting.cap;
    reading.setting = as_compared(line, line::topology(line), std::move(reading.setting));
    if (reading.instrument == Instrument::plugged) reading.setting.cap = cap;  // what blocks a nozzle holds the gauge
  }
  const Suspects all = suspects(line, readings.bench, plates_of(readings.list));
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
  for (std::string& sentence : contradicting(line, readings, tips)) result.remarks.push_back(std::move(sentence));
  const auto best =
      std::min_element(modes.begin(), modes.end(), [](const Mode& a, const Mode& b) { return a.misfit < b.misfit; });
  result.quality = quality_of(*best, evidence);
  std::vector<std::size_t> population;  // of each sample
  Beliefs beliefs = beliefs_of(all, evidence, readings.bench, modes, options, population, result);
  beliefs.costs = costs_of(all, beliefs.z, tips);
  result.tip_vacuum = weighted_quantile(beliefs.costs.tip_vacuum, beliefs.weight, 0.5);
  result.alike = alike(line, evidence.readings(), tips);
  find_elements(all, beliefs, modes, result);
  result.agreement = agreement(beliefs, population, result.elements.front().element);
  compare(all, readings.bench, beliefs, evidence, result);
  std::vector<Instead> instead;
  for (Finding& finding : result.elements) {
    if (result.quick || !(finding.amiss >= enough_for_verdict || off_file(result, finding))) continue;
    auto rival = instead_of(all, evidence, modes, finding.element);
    if (!rival) continue;
    finding.instead = rival->element;
    instead.push_back({finding.element, std::move(*rival)});
  }
  find_among(all, beliefs, tips, result);
  Found found{all, evidence, readings, modes, tips, std::move(beliefs), {}, {}, std::move(instead)};
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
  const bool stuck =
      !result.prior_only && verdict(result) != Verdict::sure && (!further_test(result) || tells_little(result));
  if (stuck && result.quality.chance >= unbelievable)
    result.with_plug_gauge = with_plug_gauge(line, found, options, result);
  return result;
}

}  // namespace airtally::hunt
