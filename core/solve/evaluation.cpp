#include "solve/evaluation.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solve/path_flow.hpp"

namespace airtally::solve {
namespace {

constexpr double roughly = 1e-4;  ///< how close the laws come for the start, which is no answer

}  // namespace

double pump_secant(const Source& source, double ambient) {
  return source.free_flow() / ((ambient - source.ultimate()) * (ambient + source.ultimate()));
}

double Evaluation::short_conductance(const Network& network) { return 1e13 * network.free_flow() / network.ambient; }

Evaluation::Evaluation(const Network& network, const Elimination& pattern)
    : flow(network.paths.size()),
      pull(network.sources.size()),
      net(network.nodes.size()),
      through(network.nodes.size()),
      slots_(network.paths.size()),
      last_(network.paths.size()),
      foretold_(network.paths.size(), std::numeric_limits<double>::quiet_NaN()),
      foretold_pull_(network.sources.size(), std::numeric_limits<double>::quiet_NaN()),
      short_(short_conductance(network)) {
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const Path& path = network.paths[k];
    const int a = path.role == Role::restriction && path.a == outside ? network.node_of[path.element] : path.a;
    if (a == outside || path.b == outside || a == path.b) continue;
    const Ordering::Slot slot = pattern.slot(a, path.b);
    slots_[k] = {slot.from_first, slot.from_second};
  }
}

void Evaluation::at(const Network& network, const Pressures& x, double close) {
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
    const double low = (a_in ? x.low[path.a] : 0.0) - (b_in ? x.low[path.b] : 0.0);
    laws::Flow& f = flow[k];
    LastFlow& last = last_[k];
    double guess = last.guess(pa, pb);
    f = path_flow(path, path_ends(path, pa, pb, low), network.air, short_, guess, close);
    last.keep(f, path.scale, guess, pa, pb);
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
    pull[s] = source.at(x.p[source.node], x.low[source.node]);
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
    } else if (slots_[k].ab >= 0) {
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
  secants_.assign(network.paths.size(), 0.0);
  const double high = network.ambient, low = 0.999 * network.ambient;
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const Path& path = network.paths[k];
    if (path.mode == Mode::closed) continue;
    // As if no cracking pressure held a check valve shut.
    const laws::Ends ends(high + cracking_of(path), low, high - low);
    double guess = 0.0;
    const double m = path_flow(path, ends, network.air, short_, guess, roughly).m;
    last_[k] = {};  // the laws guess better than by a flow at next to no drop
    const double secant = m / ((high - low) * (high + low));
    secants_[k] = secant;
    if (path.a != outside && path.b != outside) {
      if (slots_[k].ab < 0) continue;
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
    const double secant = pump_secant(source, network.ambient);
    excess[source.node] += secant;
    rhs[source.node] += secant * ultimate * ultimate;
  }
}

}  // namespace airtally::solve
