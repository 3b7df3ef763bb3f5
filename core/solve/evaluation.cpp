#include "solve/evaluation.hpp"

#include <algorithm>
#include <cmath>

namespace airtally::solve {
namespace {

/// Calls the law of a path; `guess` holds the last flow for the laws that iterate.
struct Call {
  const laws::Ends& ends;
  const gas::Air& air;
  double& guess;

  laws::Flow operator()(const laws::Duct& law) const { return remember(laws::duct(law, ends, air, guess)); }
  laws::Flow operator()(const laws::Passage& law) const { return remember(laws::passage(law, ends, air, guess)); }
  laws::Flow operator()(const laws::Conductance& law) const { return laws::conductance(law, ends, air); }
  laws::Flow operator()(const laws::Clearance& law) const { return laws::clearance(law, ends, air); }
  laws::Flow operator()(const laws::FaceGap& law) const { return laws::face_gap(law, ends, air); }
  laws::Flow operator()(const laws::ClosingGap& law) const { return laws::closing_gap(law, ends, air); }
  laws::Flow operator()(const laws::Rated& law) const { return laws::rated(law, ends); }
  laws::Flow operator()(const OneWay& law) const {
    const double drop = ends.drop - law.cracking;
    if (drop <= 0.0) return {};
    return laws::conductance(law.path, {ends.p1 - law.cracking, ends.p2, drop}, air);
  }

  laws::Flow remember(const laws::Flow& flow) const {
    guess = flow.m;
    return flow;
  }
};

}  // namespace

laws::Flow path_flow(const Path& path, const laws::Ends& ends, const gas::Air& air, double short_conductance,
                     double& guess) {
  if (path.mode == Mode::closed) return {};
  if (path.mode == Mode::shorted) return {short_conductance * ends.drop, short_conductance, -short_conductance};
  const laws::Flow flow = std::visit(Call{ends, air, guess}, path.law);
  return {path.scale * flow.m, path.scale * flow.dm_dp1, path.scale * flow.dm_dp2};
}

double Evaluation::short_conductance(const Network& network) { return 1e13 * network.free_flow() / network.ambient; }

Evaluation::Evaluation(const Network& network, const Elimination& pattern)
    : flow(network.paths.size()),
      pull(network.sources.size()),
      net(network.nodes.size()),
      through(network.nodes.size()),
      slots_(network.paths.size()),
      guess_(network.paths.size(), 0.0),
      short_(short_conductance(network)) {
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const Path& path = network.paths[k];
    const int a = path.role == Role::restriction && path.a == outside ? network.node_of[path.element] : path.a;
    if (a == outside || path.b == outside) continue;
    const Ordering::Slot slot = pattern.slot(a, path.b);
    slots_[k] = {slot.from_first, slot.from_second};
  }
}

void Evaluation::at(const Network& network, const Pressures& x) {
  ++count;
  std::fill(net.begin(), net.end(), 0.0);
  std::fill(through.begin(), through.end(), 0.0);
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const Path& path = network.paths[k];
    if (path.mode == Mode::closed) {
      flow[k] = {};
      continue;
    }
    const bool a_in = path.a != outside, b_in = path.b != outside;
    const double pa = a_in ? x.p[path.a] : path.outside_pressure;
    const double pb = b_in ? x.p[path.b] : path.outside_pressure;
    const double drop = (pa - pb) + ((a_in ? x.low[path.a] : 0.0) - (b_in ? x.low[path.b] : 0.0));
    laws::Flow& f = flow[k];
    f = path_flow(path, laws::Ends(pa, pb, drop), network.air, short_, guess_[k]);
    const double half = 0.5 * std::fabs(f.m);
    if (a_in) {
      net[path.a] -= f.m;
      through[path.a] += half;
    }
    if (b_in) {
      net[path.b] += f.m;
      through[path.b] += half;
    }
  }
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    const Source& source = network.sources[s];
    pull[s] = source.at(x.p[source.node]);
    net[source.node] -= pull[s].m;
    through[source.node] += 0.5 * std::fabs(pull[s].m);
  }
}

void Evaluation::couple(const Network& network, Elimination& elimination) const {
  std::vector<double>& off = elimination.couplings();
  std::vector<double>& excess = elimination.excess();
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const Path& path = network.paths[k];
    if (path.mode == Mode::closed) continue;
    const laws::Flow& f = flow[k];
    if (path.a == outside) {
      if (path.b != outside) excess[path.b] -= f.dm_dp2;
    } else if (path.b == outside) {
      excess[path.a] += f.dm_dp1;
    } else {
      off[slots_[k].ab] += f.dm_dp1;
      off[slots_[k].ba] -= f.dm_dp2;
    }
  }
  for (std::size_t s = 0; s < network.sources.size(); ++s) excess[network.sources[s].node] += pull[s].dm_dp;
}

void Evaluation::couple_secants(const Network& network, Elimination& elimination, std::vector<double>& rhs) {
  ++count;
  std::vector<double>& off = elimination.couplings();
  std::vector<double>& excess = elimination.excess();
  const double high = network.ambient, low = 0.999 * network.ambient;
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const Path& path = network.paths[k];
    if (path.mode == Mode::closed) continue;
    const double m = path_flow(path, laws::Ends(high, low), network.air, short_, guess_[k]).m;
    const double secant = m / ((high - low) * (high + low));
    if (path.a != outside && path.b != outside) {
      off[slots_[k].ab] += secant;
      off[slots_[k].ba] += secant;
      continue;
    }
    const int inside = path.a == outside ? path.b : path.a;
    if (inside == outside) continue;
    excess[inside] += secant;
    rhs[inside] += secant * path.outside_pressure * path.outside_pressure;
  }
  for (const Source& source : network.sources) {
    const double ultimate = source.ultimate();
    const double secant = source.free_flow() / ((network.ambient - ultimate) * (network.ambient + ultimate));
    excess[source.node] += secant;
    rhs[source.node] += secant * ultimate * ultimate;
  }
}

}  // namespace airtally::solve
