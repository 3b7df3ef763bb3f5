#include "solve/answer.hpp"

#include <cmath>

#include "line/seat.hpp"
#include "line/variant.hpp"

namespace airtally::solve {
namespace {

using line::none;

/// Flows through elements without restriction: their two ends are one place in the network, so the solver has no
/// flow for them. Ends that share a place hang together as a tree (loops of them are refused); what comes in beyond
/// each of its edges must go through that edge, so peeling its leaves gives every flow.
std::vector<double> flows_at_pump_side(const line::Line& line, const line::Topology& topology, const Network& network,
                                       const Evaluation& evaluation) {
  const std::size_t n = line.elements.size();
  std::vector<double> flow(n, 0.0), gathered(n, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    for (int k : network.paths_of[i]) {
      const double m = evaluation.flow[k].m;
      if (network.paths[k].role == Role::restriction) continue;
      gathered[i] += m;
    }
    if (!line::restricts(line.elements[i]) || topology.before[i] == none) continue;
    const std::vector<int>& own = network.paths_of[i];
    // The last segment is the one at the pump; the first at the tip.
    int first = -1, last = -1;
    for (int k : own)
      if (network.paths[k].role == Role::restriction) {
        if (first < 0) first = k;
        last = k;
      }
    flow[i] = evaluation.flow[last].m;
    gathered[topology.before[i]] += flow[i];
    gathered[i] -= evaluation.flow[first].m;
  }
  for (std::size_t s = 0; s < network.sources.size(); ++s) gathered[network.sources[s].element] -= evaluation.pull[s].m;

  // Edges between ends that share a place: an element without restriction (the owner), or a join (no owner).
  struct Edge {
    std::size_t other;
    std::size_t owner;
  };
  std::vector<std::vector<Edge>> near(n);
  const auto connect = [&](std::size_t i, std::size_t j, std::size_t owner) {
    near[i].push_back({j, owner});
    near[j].push_back({i, owner});
  };
  for (std::size_t i = 0; i < n; ++i) {
    if (!line::restricts(line.elements[i]) && topology.before[i] != none) connect(i, topology.before[i], i);
    if (topology.joined[i] != none) connect(i, topology.joined[i], none);
  }
  std::vector<std::size_t> degree(n), leaves;
  for (std::size_t i = 0; i < n; ++i) {
    degree[i] = near[i].size();
    if (degree[i] == 1) leaves.push_back(i);
  }
  std::vector<bool> done(n, false);
  while (!leaves.empty()) {
    const std::size_t i = leaves.back();
    leaves.pop_back();
    if (degree[i] != 1) continue;
    done[i] = true;
    for (const Edge& edge : near[i]) {
      if (done[edge.other]) continue;
      if (edge.owner != none) flow[edge.owner] = edge.owner == i ? gathered[i] : -gathered[i];
      gathered[edge.other] += gathered[i];
      if (--degree[edge.other] == 1) leaves.push_back(edge.other);
    }
  }
  return flow;
}

}  // namespace

SteadyAnswer read_off(const line::Line& line, const line::Topology& topology, const Network& network,
                      const Pressures& x, const Evaluation& evaluation, const SteadyReport& report) {
  SteadyAnswer answer;
  answer.ambient = network.ambient;
  answer.report = report;
  std::vector<double> flow = flows_at_pump_side(line, topology, network, evaluation);
  // What the balance cannot tell from no flow is none: in a dead end rounding leaves 1e-30 kg/s, or not.
  const double next_to_nothing = Steady::floor * network.free_flow();
  for (double& m : flow)
    if (std::fabs(m) < next_to_nothing) m = 0.0;
  const auto vacuum = [&](int node) { return (network.ambient - x.p[node]) - x.low[node]; };

  std::vector<bool> open(line.elements.size(), false);
  for (std::size_t k = 0; k < network.nozzles.size(); ++k) open[network.nozzles[k]] = network.tips[k] == TipState::open;

  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    const int tip = network.node_of[i];
    ElementState e;
    e.element = i;
    e.vacuum = open[i] ? 0.0 : vacuum(tip);
    e.pressure = network.ambient - e.vacuum;
    e.flow = flow[i];
    if (topology.before[i] != none) {
      const int pump = network.node_of[topology.before[i]];
      e.drop = pump == tip ? 0.0 : vacuum(pump) - e.vacuum;
    }
    for (int k : network.paths_of[i])
      if (network.paths[k].role == Role::leak) e.leak += evaluation.flow[k].m;
    answer.elements.push_back(e);
  }
  for (std::size_t k = 0; k < network.nozzles.size(); ++k) {
    const std::size_t i = network.nozzles[k];
    Tip tip;
    tip.element = i;
    tip.state = network.tips[k];
    tip.vacuum = vacuum(network.node_of[topology.before[i]]);
    tip.mouth_vacuum = answer.elements[i].vacuum;
    tip.flow = flow[i];
    answer.tips.push_back(tip);
  }
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    const Source& source = network.sources[s];
    const double pull = std::fabs(evaluation.pull[s].m) < next_to_nothing ? 0.0 : evaluation.pull[s].m;
    answer.sources.push_back({source.element, vacuum(source.node), pull});
    answer.elements[source.element].flow = pull;
  }
  return answer;
}

SteadyAnswer steady(const line::Line& line, std::span<const TipState> tips) {
  const line::Topology topology = line::topology(line, false);
  const Network network(line, topology, tips);
  Steady solver(network);
  Pressures x;
  const SteadyReport report = solver.solve(network, x);
  return read_off(line, topology, network, x, solver.evaluation(), report);
}

std::vector<TipState> all_tips(const line::Line& line, TipState state) {
  return std::vector<TipState>(line::all_of(line, line::Kind::nozzle).size(), state);
}

std::vector<TipState> usual_tips(const line::Line& line) {
  std::vector<TipState> tips = all_tips(line, TipState::open);
  if (!line.part) return tips;
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  for (std::size_t k = 0; k < nozzles.size(); ++k)
    if (line::seat_of(line, nozzles[k]) == line::Seat::closed) tips[k] = TipState::part;
  return tips;
}

}  // namespace airtally::solve
