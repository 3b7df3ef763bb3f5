#include "study/course.hpp"

#include "line/topology.hpp"
#include "solve/trajectory.hpp"
#include "study/segments.hpp"

namespace airtally::study {
namespace {

int node_of(const line::Line& line, const line::Topology& topology, const solve::Network& network,
            std::size_t element) {
  if (line.elements[element].gauge) return network.gauge_node[element];
  for (std::size_t k = 0; k < network.nozzles.size(); ++k)
    if (network.nozzles[k] == element && network.tips[k] == solve::TipState::open)
      return network.node_of[topology.before[element]];
  return network.node_of[element];
}

}  // namespace

std::vector<double> course(const line::Line& line, std::span<const solve::TipState> tips, std::size_t element,
                           std::span<const double> times, const CourseOptions& options) {
  const line::Topology topology = line::topology(line);
  solve::Network network(line, topology, tips, cut(line, options.segments));
  for (solve::Node& node : network.nodes) node.volume *= options.factors.volume;
  for (solve::Source& source : network.sources) source.flow_factor *= options.factors.pump_flow;
  const int node = node_of(line, topology, network, element);
  const double ambient = network.ambient;

  const std::unique_ptr<solve::LineSystem> system = solve::line_system(std::move(network), options.thermal);
  std::vector<double> x = system->state(solve::Pressures(system->network().nodes.size(), ambient));
  system->settle_massless(0.0, x);
  solve::Trajectory trajectory({system->pressure_index(node)});
  if (!times.empty() && times.back() > 0.0)
    solve::integrate(*system, x, 0.0, times.back(), {options.absolute, options.relative},
                     [&](const solve::StepView& step) {
                       trajectory.add(step);
                       return true;
                     });
  std::vector<double> vacuum;
  for (double t : times) vacuum.push_back(t <= 0.0 || trajectory.empty() ? 0.0 : ambient - trajectory.at(0, t));
  return vacuum;
}

}  // namespace airtally::study
