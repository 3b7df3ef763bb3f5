// Questions about time: how fast, and when may it lift?
#include <algorithm>

#include "study/question.hpp"
#include "study/rise.hpp"

namespace airtally::study {

Question rise_question(const line::Line& line, std::vector<solve::TipState> tips, solve::Thermal thermal) {
  constexpr std::size_t points = 25;
  RiseOptions options;
  options.thermal = thermal;
  options.samples = points;
  const Rise now = rise(as_stated(line), tips, options);
  options.segments = now.segments;
  options.relative = 1e-5;  // a band needs no more
  std::size_t slowest = 0;
  for (std::size_t k = 0; k < now.tips.size(); ++k)
    if (now.tips[k].settle > now.tips[slowest].settle) slowest = k;
  const std::string& name = line.elements[now.tips.at(slowest).element].name;

  Question question;
  question.measures = {{"settle_s", "", "settle time", Quality::time},
                       {"final_vacuum_pa", "", "vacuum it settles at", Quality::vacuum}};
  for (const RiseSample& sample : now.samples) {
    options.times.push_back(sample.time);
    question.measures.push_back({"vacuum_pa", name, "vacuum at " + name, Quality::vacuum, false, sample.time});
  }
  question.cost = rise_cost;
  question.fixed = no_say_in_flow(line);
  question.answer = [tips = std::move(tips), options, slowest](const line::Line& sample, std::span<double> out) {
    const Rise answer = rise(sample, tips, options);
    out[0] = answer.settle;
    out[1] = answer.final_vacuum;
    for (std::size_t k = 0; k < answer.samples.size(); ++k) out[2 + k] = answer.samples[k].vacuum.at(slowest);
  };
  return question;
}

Question cycle_question(const line::Line& line, const CycleOptions& options) {
  CycleOptions quick = options;
  quick.limits = quick.widest = false;
  quick.samples = 2;
  quick.relative = 1e-5;
  Question question;
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  question.measures = {{"works_probability", "", "every lift and move has its vacuum", Quality::chance}};
  for (const std::size_t n : nozzles) {
    const std::string& name = line.elements[n].name;
    const std::string of = nozzles.size() > 1 ? ", " + name : "";
    question.measures.push_back({"safe_lift_s", name, "safe lift" + of, Quality::time});
    question.measures.push_back({"margin_at_lift_pa", name, "to spare at the lift" + of, Quality::vacuum});
    question.measures.push_back({"margin_in_travel_pa", name, "to spare in travel" + of, Quality::vacuum});
  }
  question.cost = 2000;
  question.fixed = {"sensor."};
  question.answer = [quick](const line::Line& sample, std::span<double> out) {
    const CycleAnswer answer = cycle(sample, quick);
    out[0] = 1.0;
    std::size_t next = 1;
    for (const HeadCycle& head : answer.heads) {
      if (!head.works()) out[0] = 0.0;
      out[next++] = head.safe_lift.value_or(never);
      out[next++] = head.margin_at_lift;
      out[next++] = head.margin_in_travel;
    }
  };
  return question;
}

Question cycle_curve_question(const line::Line& line) {
  CycleOptions quick;
  quick.limits = quick.widest = false;
  quick.relative = 1e-5;  // a band needs no more
  const CycleAnswer now = cycle(as_stated(line), quick);
  const std::size_t head = now.slowest;
  const std::string& name = line.elements[now.heads.at(head).nozzle].name;
  Question question;
  std::vector<double> times;
  for (std::size_t k = 0; k < now.samples.size(); k += 2) {
    times.push_back(now.samples[k].time);
    question.measures.push_back(
        {"mouth_vacuum_pa", name, "vacuum at the mouth of " + name, Quality::vacuum, false, times.back()});
  }
  // A step costs about half a solve for every element, as measured.
  question.cost = 0.5 * static_cast<double>(now.steps * line.elements.size());
  question.fixed = {"sensor."};
  question.answer = [quick, times, head](const line::Line& sample, std::span<double> out) {
    const CycleAnswer answer = cycle(sample, quick);
    // A drawn delay may make its cycle a little longer or shorter; the moments stay.
    const double step = answer.end / static_cast<double>(answer.samples.size() - 1);
    for (std::size_t k = 0; k < times.size(); ++k) {
      const double at = std::clamp(times[k] / step, 0.0, static_cast<double>(answer.samples.size() - 1));
      const std::size_t left = std::min(static_cast<std::size_t>(at), answer.samples.size() - 2);
      const double part = at - static_cast<double>(left);
      out[k] = (1.0 - part) * answer.samples[left].vacuum.at(head) + part * answer.samples[left + 1].vacuum.at(head);
    }
  };
  return question;
}

}  // namespace airtally::study
