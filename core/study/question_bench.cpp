// Questions asked at the bench: what will a gauge show, and will the sensor tell?
#include <algorithm>
#include <cmath>
#include <limits>

#include "study/question.hpp"
#include "study/strip.hpp"

namespace airtally::study {
namespace {

/// What the reading of a step is, current where there is no gauge.
double reading_of(const std::vector<StripReading>& readings, std::size_t at, bool current) {
  for (const StripReading& reading : readings)
    if (reading.at == at) return current ? reading.current.value_or(nothing) : reading.vacuum;
  return nothing;
}

}  // namespace

Question strip_question(const line::Line& line, std::vector<solve::TipState> tips) {
  const Strip now = strip(as_stated(line), tips);
  Question question;
  question.measures = {{"biggest_change_pa", "", "the biggest step", Quality::vacuum}};
  for (const StripStep& step : now.steps) {
    const std::string& name = line.elements[step.cap].name;
    // A gauge that is not on the line yet shows nothing, in any line drawn.
    const bool reads = std::isfinite(reading_of(step.readings, now.judge, now.by_current));
    question.measures.push_back({now.by_current ? "current_a" : "vacuum_pa", name, "capped behind " + name,
                                 now.by_current ? Quality::current : Quality::vacuum, reads});
    question.measures.push_back({"change_pa", name, "change by " + name, Quality::vacuum, false});
    question.measures.push_back({"culprit_probability", name, name + " is the biggest step", Quality::chance});
  }
  question.cost = 2.0 * static_cast<double>(now.steps.size());
  question.fixed = no_say_in_flow(line);
  question.answer = [tips = std::move(tips)](const line::Line& sample, std::span<double> out) {
    const Strip answer = strip(sample, tips);
    out[0] = 0.0;
    std::size_t next = 1;
    for (const StripStep& step : answer.steps) {
      out[0] = std::max(out[0], step.change);
      out[next++] = reading_of(step.readings, answer.judge, answer.by_current);
      out[next++] = step.change;
      out[next++] = answer.culprit == step.cap ? 1.0 : 0.0;
    }
  };
  return question;
}

Question sense_question(const line::Line& line, std::optional<std::size_t> nozzle) {
  const Sense now = sense(line, nozzle);
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  // Every line drawn is asked about the nozzle that is the hardest of the line as it stands.
  const auto found = std::find(nozzles.begin(), nozzles.end(), now.nozzle);
  const auto asked = static_cast<std::size_t>(found - nozzles.begin());
  Question question;
  question.measures = {{"separation", "", "deviations on either side", Quality::number},
                       {"tells_probability", "", "tells", Quality::chance},
                       {"safe_after_s", "", "safe to decide after touch", Quality::time}};
  for (const SensedState& state : now.states)
    question.measures.push_back({"vacuum_pa", state.name, "at the sensor, " + state.name, Quality::vacuum});
  question.measures.push_back({"threshold_pa", "", "threshold", Quality::vacuum});
  question.cost = sense_cost;
  question.fixed = no_say_in_flow(line);
  std::erase(question.fixed, "sensor.");
  question.fixed.insert(question.fixed.end(), {"part.gap", "sensor.zero", "sensor.accuracy", "sensor.allowed"});
  question.answer = [asked, gap = line.part->gap, zero = line.sensor->zero](const line::Line& sample,
                                                                            std::span<double> out) {
    line::Line spread = sample;
    spread.part->gap = gap;
    spread.sensor->zero = zero;
    spread.cycle.reset();  // not asked about
    const Sense answer = sense(spread, asked);
    out[0] = answer.separation;
    out[1] = answer.tells ? 1.0 : 0.0;
    out[2] = answer.safe_after.value_or(never);
    for (std::size_t k = 0; k < answer.states.size(); ++k) out[3 + k] = answer.states[k].reading.vacuum;
    out[3 + answer.states.size()] = answer.threshold > 0.0 ? answer.threshold : nothing;
  };
  return question;
}

}  // namespace airtally::study
