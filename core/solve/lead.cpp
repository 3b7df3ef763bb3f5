// Where a tangent has overshot, flows lead and pressures follow: see Evaluation::lead().
#include <algorithm>
#include <cmath>
#include <limits>

#include "solve/evaluation.hpp"
#include "solve/path_flow.hpp"

namespace airtally::solve {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

/// Whether a flow has passed so far beyond what was foretold that the tangent should be taken elsewhere. From below,
/// where the law is steeper, its own tangent leads there without jumping to and fro.
bool astray(double is, double told) { return !(is * told > 0.0 && std::fabs(is) < 2.0 * std::fabs(told)); }

/// This laminar law is a parabola, which Newton's method masters.
bool is_parabola(const Law& law) { return std::holds_alternative<laws::Rated>(law); }

/// The tangent of a path's law at the drop where the flow from `upstream` [Pa] is `told` [kg/s], either way; at rest
/// for no flow, and where it chokes when it can't be as much. `at` becomes the ends where it was taken.
laws::Flow tangent_at_flow(const Path& path, const gas::Air& air, double upstream, double told, laws::Ends& at) {
  const bool forward = told >= 0.0;
  const double inlet = upstream - cracking_of(path);
  const auto flow_at = [&](double drop) {
    double guess = 0.0;
    at = forward ? laws::Ends(upstream, inlet - drop, drop) : laws::Ends(upstream - drop, upstream, -drop);
    return path_flow(path, at, air, 0.0, guess);
  };
  const auto slope_of = [&](const laws::Flow& f) { return forward ? -f.dm_dp2 : f.dm_dp1; };
  laws::Flow flow = flow_at(0.0);
  if (told == 0.0) return flow;
  // The law is concave in the drop, also between their logarithms: Newton's steps there come from below and don't pass.
  const double size = std::fabs(told), most = 0.999 * inlet;
  double drop = std::min(size / slope_of(flow), most);
  for (int i = 0; i < 20; ++i) {
    flow = flow_at(drop);
    const double ratio = size / std::fabs(flow.m), slope = slope_of(flow);
    if (std::fabs(ratio - 1.0) < 0.05 || slope <= 0.0 || drop >= most) break;
    drop = std::min(drop * std::pow(ratio, std::fabs(flow.m) / (drop * slope)), most);
  }
  // A choked tangent is level and leads nowhere; the one at rest is the steepest and always leads back.
  return slope_of(flow) > 0.0 && std::fabs(flow.m) > 0.5 * size ? flow : flow_at(0.0);
}

/// The same for a pump: where it takes `told`, or at the end of its curve that comes nearest to that.
laws::PumpFlow tangent_at_pull(const Source& source, double ambient, double told, double& at) {
  double low = source.ultimate(), high = ambient;
  at = low;
  if (told <= 0.0) return source.at(low);
  laws::PumpFlow flow = source.at(high);
  for (int i = 0; i < 60; ++i) {
    at = 0.5 * (low + high);
    flow = source.at(at);
    if (std::fabs(flow.m - told) < 0.05 * told && flow.dm_dp > 0.0) break;
    (flow.m < told ? low : high) = at;
  }
  return flow;
}

}  // namespace

void Evaluation::lead(const Network& network, const Pressures& x) {
  const double nothing = 1e-16 * network.free_flow();
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const Path& path = network.paths[k];
    if (path.mode != Mode::active || std::isnan(foretold_[k])) continue;
    const bool one_way = std::holds_alternative<OneWay>(path.law);
    if (path.scale <= 0.0 || is_parabola(path.law)) continue;
    laws::Flow& f = flow[k];
    double told = foretold_[k];
    if (one_way) told = std::max(told, 0.0);  // what wants to go back finds it shut
    if (std::max(std::fabs(f.m), std::fabs(told)) < nothing) continue;
    if (!astray(f.m, told)) continue;
    const double pa = path.a == outside ? path.outside_pressure : x.p[path.a];
    const double pb = path.b == outside ? path.outside_pressure : x.p[path.b];
    const double low = (path.a == outside ? 0.0 : x.low[path.a]) - (path.b == outside ? 0.0 : x.low[path.b]);
    const double drop = path_ends(path, pa, pb, low).drop;
    const double upstream = told > 0.0 ? pa : told < 0.0 ? pb : std::max(pa, pb);
    if (one_way && upstream <= cracking_of(path)) continue;
    laws::Ends at(upstream, upstream);
    laws::Flow tangent = tangent_at_flow(path, network.air, upstream, told, at);
    // Along the tangent to where the pressures are: one end's own change, and the rest by the drop, which keeps digits.
    tangent.m += tangent.dm_dp1 * (drop - at.drop) + (tangent.dm_dp1 + tangent.dm_dp2) * (pb - at.p2);
    const double more = tangent.m - f.m;
    if (path.a != outside) net[path.a] -= more;
    if (path.b != outside) net[path.b] += more;
    f = tangent;
  }
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    laws::PumpFlow& f = pull[s];
    const double told = foretold_pull_[s];
    if (std::isnan(told) || std::max(f.m, told) < nothing || !astray(f.m, told)) continue;
    const Source& source = network.sources[s];
    double at = 0.0;
    laws::PumpFlow tangent = tangent_at_pull(source, network.ambient, told, at);
    tangent.m += tangent.dm_dp * ((x.p[source.node] - at) + x.low[source.node]);
    net[source.node] -= tangent.m - f.m;
    f = tangent;
  }
}

void Evaluation::foretell_secants(const Network& network, const std::vector<double>& squares) {
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const Path& path = network.paths[k];
    const auto square = [&](int node) {
      return node == outside ? path.outside_pressure * path.outside_pressure : squares[node];
    };
    foretold_[k] = secants_[k] * (square(path.a) - square(path.b));
  }
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    const Source& source = network.sources[s];
    const double ultimate = source.ultimate();
    foretold_pull_[s] = pump_secant(source, network.ambient) * (squares[source.node] - ultimate * ultimate);
  }
}

void Evaluation::foretell(const Network& network, const std::vector<double>& step) {
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const Path& path = network.paths[k];
    const double a = path.a == outside ? 0.0 : step[path.a], b = path.b == outside ? 0.0 : step[path.b];
    foretold_[k] = flow[k].m + flow[k].dm_dp1 * a + flow[k].dm_dp2 * b;
  }
  for (std::size_t s = 0; s < network.sources.size(); ++s)
    foretold_pull_[s] = pull[s].m + pull[s].dm_dp * step[network.sources[s].node];
}

void Evaluation::forget() {
  std::fill(foretold_.begin(), foretold_.end(), unknown);
  std::fill(foretold_pull_.begin(), foretold_pull_.end(), unknown);
}

}  // namespace airtally::solve
