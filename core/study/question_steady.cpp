#include <algorithm>
#include <memory>

#include "errors.hpp"
#include "solve/answer.hpp"
#include "study/question.hpp"
#include "study/spare.hpp"

namespace airtally::study {
namespace {

/// A line of this shape solved once, from which every sample starts: so its answer does not depend on the sample
/// solved before it, and the symbolic half of the elimination is done once.
struct Start {
  line::Topology topology;
  std::vector<solve::TipState> tips;
  solve::Steady steady;
  solve::Pressures pressures;

  /// What solves a sample and is overwritten for the next one.
  struct Desk {
    solve::Steady steady;
    solve::Pressures pressures;
  };
  Spare<Desk> desks = {};
};

std::shared_ptr<Start> start_of(const line::Line& line, std::vector<solve::TipState> tips) {
  const line::Line stated = as_stated(line);
  const line::Topology topology = line::topology(stated, false);
  const solve::Network network(stated, topology, tips);
  std::shared_ptr<Start> start(new Start{topology, std::move(tips), solve::Steady(network), solve::Pressures()});
  start->steady.solve(network, start->pressures);
  return start;
}

solve::SteadyAnswer solved(Start& start, const line::Line& line) {
  const solve::Network network(line, start.topology, start.tips);
  solve::SteadyAnswer answer;
  const auto make = [&] { return std::make_unique<Start::Desk>(Start::Desk{start.steady, start.pressures}); };
  start.desks.lend(make, [&](Start::Desk& desk) {
    desk.steady = start.steady;
    desk.pressures = start.pressures;
    solve::SteadyReport report;
    try {
      report = desk.steady.resolve(network, desk.pressures);
    } catch (const NoConvergence&) {
      report = desk.steady.solve(network, desk.pressures);
    }
    answer = solve::read_off(line, start.topology, network, desk.pressures, desk.steady.evaluation(), report);
  });
  return answer;
}

}  // namespace

Question steady_question(const line::Line& line, std::vector<solve::TipState> tips) {
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  const bool several = nozzles.size() > 1;
  Question question;
  if (several) question.measures.push_back({"least_tip_vacuum_pa", "", "vacuum at the weakest tip", Quality::vacuum});
  for (const std::size_t n : nozzles) {
    const std::string& name = line.elements[n].name;
    question.measures.push_back({"tip_vacuum_pa", name, several ? "vacuum at " + name : "vacuum at the tip",
                                 Quality::vacuum, nozzles.size() < 5});
  }
  for (const line::Element& element : line.elements)
    if (line::is_source(element.kind)) {
      question.measures.push_back({"vacuum_pa", element.name, "vacuum at " + element.name, Quality::vacuum});
      question.measures.push_back({"flow_kg_s", element.name, "flow of " + element.name, Quality::flow});
    }
  question.measures.push_back({"leaks_kg_s", "", "all leaks", Quality::leak});
  for (const line::Element& element : line.elements)
    if (!line::is_source(element.kind) && element.kind != line::Kind::nozzle)
      question.measures.push_back(
          {"vacuum_pa", element.name, "vacuum at " + element.name, Quality::vacuum, element.gauge.has_value()});
  question.fixed = no_say_in_flow(line);
  question.answer = [start = start_of(line, std::move(tips)), several](const line::Line& sample,
                                                                       std::span<double> out) {
    const solve::SteadyAnswer answer = solved(*start, sample);
    std::size_t next = 0;
    if (several) {
      out[next] = answer.tips.front().tip_vacuum();
      for (const solve::Tip& tip : answer.tips) out[next] = std::min(out[next], tip.tip_vacuum());
      ++next;
    }
    for (const solve::Tip& tip : answer.tips) out[next++] = tip.tip_vacuum();
    double leaks = 0.0;
    for (const solve::ElementState& state : answer.elements) leaks += state.leak;
    for (const solve::SourceState& source : answer.sources) {
      out[next++] = source.vacuum;
      out[next++] = source.flow;
    }
    out[next++] = leaks;
    for (std::size_t i = 0; i < sample.elements.size(); ++i)
      if (!line::is_source(sample.elements[i].kind) && sample.elements[i].kind != line::Kind::nozzle)
        out[next++] = answer.elements[i].vacuum;
  };
  return question;
}

}  // namespace airtally::study
