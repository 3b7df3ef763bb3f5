#include "problem.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "read/line_file.hpp"
#include "solve/answer.hpp"

namespace airtally::bench {
namespace {

line::Line filled(line::Line line) {
  for (line::Element& element : line.elements)
    if (element.volume.value == 0.0) element.volume = 0.05e-6;
  return line;
}

}  // namespace

line::Line scenario(const std::string& name) { return read::read_line(AIRTALLY_LINES "/" + name + ".toml", {}); }

Subject::Subject(line::Line l, solve::TipState state)
    : line(filled(std::move(l))),
      topology(line::topology(line)),
      network(line, topology, solve::all_tips(line, state)) {
  const std::size_t nozzle = network.nozzles.front();
  tip = network.node_of[state == solve::TipState::open ? topology.before[nozzle] : nozzle];
}

Problem::Problem(const solve::Network& network)
    : network_(network),
      elimination_(static_cast<int>(network.nodes.size()), network.pairs()),
      evaluation_(network, elimination_),
      pressures_(network.nodes.size()) {
  for (const solve::Node& node : network.nodes) mass.push_back(node.volume / network.air.rt);
  std::set<std::pair<int, int>> seen;
  for (const auto& [a, b] : network.pairs())
    if (a != b && seen.insert(std::minmax(a, b)).second) pairs_.push_back({a, b, elimination_.slot(a, b)});
}

void Problem::needs(double relative) { close_ = solve::closeness_for(relative); }

void Problem::drive(double t) {
  for (auto ramp = ramps.begin(); ramp != ramps.end(); ++ramp) {
    // The one that began last has the say; before all of a path, its first.
    const bool first = std::none_of(ramps.begin(), ramp, [&](const solve::Ramp& r) { return r.path == ramp->path; });
    if (t < ramp->begin && !first) continue;
    const double share = std::clamp((t - ramp->begin) / (ramp->end - ramp->begin), 0.0, 1.0);
    network_.paths[ramp->path].scale = ramp->from + share * (ramp->to - ramp->from);
  }
}

bool Problem::at(std::span<const double> p) {
  for (const double value : p)
    if (!(value > 1.0) || !(value < 1e7)) return false;
  std::copy(p.begin(), p.end(), pressures_.p.begin());
  evaluation_.at(network_, pressures_, close_);
  return true;
}

void Problem::couple(solve::Elimination& elimination) const {
  elimination.clear();
  evaluation_.couple(network_, elimination);
}

std::vector<double> Problem::start() {
  std::vector<double> squares(size(), 0.0);
  elimination_.clear();
  evaluation_.couple_secants(network_, elimination_, squares);
  elimination_.factor();
  elimination_.solve(squares);
  const auto [low, high] = network_.bounds();
  for (double& p : squares) p = p > 0.0 ? std::clamp(std::sqrt(p), low, high) : network_.ambient;
  return squares;
}

}  // namespace airtally::bench
