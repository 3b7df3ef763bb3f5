#include "solve/shut_places.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

#include "solve/path_flow.hpp"
#include "solve/steady.hpp"

namespace airtally::solve {
namespace {

/// A pressure [Pa, absolute] in two doubles.
struct Level {
  double p = std::numeric_limits<double>::infinity();
  double low = 0.0;
  bool below(const Level& other) const {
    return std::isinf(other.p) ? !std::isinf(p) : (p - other.p) + (low - other.low) < 0.0;
  }
  /// The level that is `more` [Pa] higher (Knuth's exact sum).
  Level plus(double more) const {
    const double sum = p + more, back = sum - p;
    return {sum, low + ((p - (sum - back)) + (more - back))};
  }
};

/// The highest level before a shut valve with `beyond` behind it. Its drop as the law will see it is nothing and not
/// below, so that its slope is that of the open side: what is beyond it moves what is before it.
Level held_by(const Path& valve, const Level& beyond) {
  Level most = beyond.plus(cracking_of(valve));
  const auto over = [&] { return path_ends(valve, most.p, beyond.p, most.low - beyond.low).drop; };
  for (int i = 0; i < 2; ++i) most.low -= over();
  if (over() < 0.0) most.low -= 2.0 * over();
  return most;
}

class Islands {
 public:
  Islands(const Network& network, const Evaluation& evaluation, const Pressures& x)
      : network_(network),
        evaluation_(evaluation),
        nothing_(Steady::floor * network.free_flow()),
        parent_(network.nodes.size()),
        crosses_(network.nodes.size(), 0.0),
        blown_(network.nodes.size(), false),
        start_(network.nodes.size(), Level{0.0, 0.0}),
        level_(network.nodes.size()) {
    std::iota(parent_.begin(), parent_.end(), 0);
    join();
    cross();
    start(x);
    bound();
    descend(x);
  }

  /// What the place's island comes to; nothing where it stays as it is.
  std::optional<Level> level(int node) {
    const int island = of(node);
    if (moves(island)) return {};
    if (!std::isinf(level_[island].p)) return level_[island];
    // A closed valve cuts it off: air that nothing draws at, nor blows at, is as it was before the pull-down.
    if (blown_[island]) return {};
    return start_[island];
  }
  const std::vector<std::size_t>& shut() const { return shut_; }

 private:
  int of(int node) {
    while (parent_[node] != node) node = parent_[node] = parent_[parent_[node]];
    return node;
  }
  bool passes(std::size_t k) const {
    const laws::Flow& f = evaluation_.flow[k];
    return network_.paths[k].mode != Mode::closed && (f.dm_dp1 != 0.0 || f.dm_dp2 != 0.0 || f.m != 0.0);
  }
  /// Whether more goes in and out of the island than the solver's balance can tell from nothing.
  bool moves(int island) const { return crosses_[island] > nothing_; }

  void join() {
    for (std::size_t k = 0; k < network_.paths.size(); ++k) {
      const Path& path = network_.paths[k];
      if (path.a == outside || path.b == outside || path.a == path.b || path.mode == Mode::closed) continue;
      if (std::holds_alternative<OneWay>(path.law) && path.mode == Mode::active &&
          std::fabs(evaluation_.flow[k].m) <= nothing_) {
        if (path.scale > 0.0) shut_.push_back(k);
      } else if (passes(k)) {
        parent_[of(path.a)] = of(path.b);
      }
    }
  }

  bool to_outside(std::size_t k) const {
    const Path& path = network_.paths[k];
    return passes(k) && (path.a == outside) != (path.b == outside);
  }
  int inside(const Path& path) { return of(path.a == outside ? path.b : path.a); }

  void cross() {
    for (std::size_t k = 0; k < network_.paths.size(); ++k)
      if (to_outside(k)) crosses_[inside(network_.paths[k])] += std::fabs(evaluation_.flow[k].m);
    for (std::size_t s = 0; s < network_.sources.size(); ++s)
      crosses_[of(network_.sources[s].node)] += evaluation_.pull[s].m;
  }

  /// Where a pull-down starts: no island at rest ends above the room, unless blow-off holds it there, itself or by way
  /// of a valve that let its air through. What nothing blows at may have come out of the solver at any pressure.
  void start(const Pressures& x) {
    for (std::size_t k = 0; k < network_.paths.size(); ++k)
      if (to_outside(k) && network_.paths[k].outside_pressure > network_.ambient)
        blown_[inside(network_.paths[k])] = true;
    for (std::size_t round = 0; round <= shut_.size(); ++round)
      for (const std::size_t k : shut_) {
        const Path& path = network_.paths[k];
        const bool above = moves(of(path.a)) && x.p[path.a] > network_.ambient;
        if (above || blown_[of(path.a)]) blown_[of(path.b)] = true;
      }
    for (std::size_t i = 0; i < x.p.size(); ++i) {
      const int island = of(static_cast<int>(i));
      Level& most = start_[island];
      most.p = std::max({most.p, network_.ambient, blown_[island] ? x.p[i] : 0.0});
    }
  }

  void bound() {
    for (std::size_t k = 0; k < network_.paths.size(); ++k)
      if (to_outside(k)) lower(inside(network_.paths[k]), {network_.paths[k].outside_pressure, 0.0});
    for (const Source& source : network_.sources)
      if (source.flow_factor > 0.0) lower(of(source.node), {source.ultimate(), 0.0});
  }

  void lower(int island, const Level& to) {
    const Level& most = to.below(start_[island]) ? to : start_[island];
    if (most.below(level_[island])) level_[island] = most;
  }

  /// Lowers every island at rest to what the shut valves out of it allow. A round settles at least one island more.
  void descend(const Pressures& x) {
    bool changed = true;
    for (std::size_t round = 0; changed && round <= shut_.size(); ++round) {
      changed = false;
      for (const std::size_t k : shut_) {
        const Path& path = network_.paths[k];
        const int from = of(path.a), to = of(path.b);
        if (moves(from) || from == to) continue;
        const Level beyond = moves(to) ? Level{x.p[path.b], x.low[path.b]} : level_[to];
        if (std::isinf(beyond.p)) continue;
        const Level before = level_[from];
        lower(from, held_by(path, beyond));
        changed = changed || level_[from].below(before);
      }
    }
  }

  const Network& network_;
  const Evaluation& evaluation_;
  double nothing_;  // a flow that counts as none [kg/s]
  std::vector<int> parent_;
  std::vector<double> crosses_;  // per island, by its first node: flows from outside and to sources [kg/s]
  std::vector<bool> blown_;      // per island: blow-off may hold it above the room
  std::vector<Level> start_, level_;
  std::vector<std::size_t> shut_;  // paths
};

}  // namespace

bool rest_shut_places(const Network& network, const Evaluation& evaluation, Pressures& x) {
  Islands islands(network, evaluation, x);
  if (islands.shut().empty()) return false;
  bool moved = false;
  for (std::size_t i = 0; i < x.p.size(); ++i) {
    const std::optional<Level> level = islands.level(static_cast<int>(i));
    if (!level || (level->p == x.p[i] && level->low == x.low[i])) continue;
    x.p[i] = level->p;
    x.low[i] = level->low;
    moved = true;
  }
  return moved;
}

}  // namespace airtally::solve
