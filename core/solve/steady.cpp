#include "solve/steady.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <tuple>

#include "errors.hpp"
#include "solve/shut_places.hpp"
#include "solve/tally.hpp"

namespace airtally::solve {
namespace {

constexpr int newton_limit = 60;      ///< plain Newton needs 4 to 15; more means that it wanders
constexpr int stall_limit = 15;       ///< steps without a new smallest imbalance before the fallback takes over
constexpr int fallback_limit = 2000;  ///< pseudo-transient steps

/// How close the laws come when the imbalance before was `last`: what that leaves of a flow is small beside what
/// Newton's step leaves, the imbalance squared, and so costs no step. Most evaluations take one trial of each law.
double closeness(double last) { return std::clamp(0.01 * last, laws::exactly, 1e-3); }

/// An imbalance that was found with less than this may not be one of the line's own, and is looked at again [-].
constexpr double close_enough = 1e-6;

/// Adds `change` to a pressure kept as two doubles (Knuth's exact sum).
void add(double& p, double& low, double change) {
  const double with = low + change;
  const double sum = p + with;
  const double back = sum - p;
  low = (p - (sum - back)) + (with - back);
  p = sum;
}

double size_of(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0, [](double s, double v) { return s + std::fabs(v); });
}

void count(const SteadyReport& report) {
  Work* work = Work::current();
  if (work == nullptr) return;
  const auto whole = [](int n) { return static_cast<std::size_t>(n); };
  work->solved(whole(report.unknowns), whole(report.iterations), whole(report.evaluations), report.fallback,
               report.worst_balance);
}

}  // namespace

Steady::Steady(const Network& network)
    : elimination_(static_cast<int>(network.nodes.size()), network.pairs()),
      evaluation_(network, elimination_),
      delta_(network.nodes.size()) {}

void Steady::start(const Network& network, Pressures& x) {
  x = Pressures(network.nodes.size(), network.ambient);
  elimination_.clear();
  std::fill(delta_.begin(), delta_.end(), 0.0);
  evaluation_.couple_secants(network, elimination_, delta_);
  elimination_.factor();
  elimination_.solve(delta_);
  evaluation_.foretell_secants(network, delta_);
  for (std::size_t i = 0; i < delta_.size(); ++i)
    if (delta_[i] > 0.0) x.p[i] = std::clamp(std::sqrt(delta_[i]), lowest_, highest_);  // 0: no path reaches it
}

/// Takes one step from an evaluated point. `storage` > 0 holds every node back as if it had that many times the volume
/// that its through-flow would fill in one step.
void Steady::step(const Network& network, Pressures& x, double storage) {
  evaluation_.lead(network, x);
  elimination_.clear();
  evaluation_.couple(network, elimination_);
  // Behind choked paths and shut valves no flow depends on the pressure: a trace of storage gives such a place a way to
  // go, and takes a ten-billionth off the step of all others.
  const double least = storage > 0.0 ? 1e-6 * network.free_flow() : 0.0;
  const double held = std::max(storage, 1e-10);
  for (std::size_t i = 0; i < x.p.size(); ++i)
    elimination_.excess()[i] += held * std::max(evaluation_.through[i], least) / x.p[i];
  elimination_.factor();
  delta_ = evaluation_.net;
  elimination_.solve(delta_);
  evaluation_.foretell(network, delta_);
  for (std::size_t i = 0; i < x.p.size(); ++i) {
    if (delta_[i] == 0.0) continue;
    const double p = x.p[i], change = delta_[i];
    // Held against the limits by differences: a place may lie less than the rounding of p away from them.
    if ((p - lowest_) + x.low[i] + change < 0.0 || (p - highest_) + x.low[i] + change > 0.0) {
      x.p[i] = change < 0.0 ? lowest_ : highest_;
      x.low[i] = 0.0;
    } else {
      add(x.p[i], x.low[i], change);
    }
  }
}

/// The worst node: its imbalance over the flow through it [-], to be held against `tolerance` and `enough`.
double Steady::imbalance(const Network& network, SteadyReport& report) const {
  const double least = floor / tolerance * network.free_flow();
  double worst = 0.0;
  std::size_t where = 0;
  for (std::size_t i = 0; i < network.nodes.size(); ++i) {
    const double relative = std::fabs(evaluation_.net[i]) / std::max(evaluation_.through[i], least);
    if (relative <= worst) continue;
    worst = relative;
    where = i;
    if (std::isnan(worst)) break;  // worse than any number, and no number is worse than it
  }
  report.worst_balance = worst;
  report.worst_element = network.nodes[where].element;
  return worst;
}

SteadyReport Steady::solve(const Network& network, Pressures& x) {
  const WorkTime time;
  std::tie(lowest_, highest_) = network.bounds();
  start(network, x);
  SteadyReport report = iterate(network, x);
  rest_shut(network, x, report);
  ++report.iterations;
  ++report.evaluations;
  count(report);
  return report;
}

SteadyReport Steady::resolve(const Network& network, Pressures& x) {
  const WorkTime time;
  std::tie(lowest_, highest_) = network.bounds();
  evaluation_.forget();
  SteadyReport report = iterate(network, x);
  rest_shut(network, x, report);
  count(report);
  return report;
}

void Steady::rest_shut(const Network& network, Pressures& x, SteadyReport& report) {
  const bool any = std::any_of(network.paths.begin(), network.paths.end(),
                               [](const Path& path) { return std::holds_alternative<OneWay>(path.law); });
  if (!any || !rest_shut_places(network, evaluation_, x)) return;
  // What leaks less than the balance can tell still wants its way through what is all but closed; as a rule this finds
  // all in balance.
  evaluation_.forget();
  const SteadyReport first = report;
  report = iterate(network, x);
  report.iterations += first.iterations;
  report.evaluations += first.evaluations;
  report.fallback = report.fallback || first.fallback;
}

SteadyReport Steady::iterate(const Network& network, Pressures& x) {
  SteadyReport report;
  report.unknowns = static_cast<int>(network.nodes.size());
  const std::size_t evaluations = evaluation_.count;

  double storage = 0.0, smallest = std::numeric_limits<double>::infinity(), last = 0.0, close = closeness(1.0);
  int stalled = 0;
  Pressures best = x;
  for (;; ++report.iterations) {
    evaluation_.at(network, x, close);
    double worst = imbalance(network, report);
    if (worst <= tolerance && close > close_enough) {
      evaluation_.at(network, x);
      worst = imbalance(network, report);
    }
    const double size = size_of(evaluation_.net);
    report.evaluations = static_cast<int>(evaluation_.count - evaluations);
    if (std::isnan(worst)) break;
    // Good enough; and no better than the step before, or so good that a further step is not worth its price.
    if (worst <= enough || (worst <= tolerance && worst > 0.25 * last)) return report;
    last = worst;
    close = closeness(worst);
    if (size < smallest) {
      smallest = size;
      best = x;
      stalled = 0;
    } else {
      ++stalled;
    }

    if (!report.fallback && (force_fallback || stalled >= stall_limit || report.iterations >= newton_limit)) {
      report.fallback = true;
      x = best;
      evaluation_.at(network, x);
      storage = 1.0;
      smallest = size_of(evaluation_.net);
    } else if (report.fallback) {
      if (report.iterations >= fallback_limit + newton_limit) break;
      // Let go of the storage as the imbalance falls, take it back where it rises.
      storage = std::clamp(storage * (stalled > 0 ? 4.0 : 0.3), 1e-14, 1e6);
      if (stalled > 0) {
        x = best;
        evaluation_.at(network, x);
      }
    }
    step(network, x, storage);
  }
  if (std::isnan(report.worst_balance))
    throw NoConvergence(
        fmt::format("the steady solve stopped after {} steps: the flows at the tip-side end of '{}' have "
                    "become something that is not a number.",
                    report.iterations, (*network.names)[report.worst_element]));
  throw NoConvergence(fmt::format(
      "the steady solve stopped after {} steps: the flows at the tip-side end of '{}' still differ by {:.1e} of what "
      "runs through it (limit {:.0e}); plain Newton and pseudo-transient continuation from the best point were tried.",
      report.iterations, (*network.names)[report.worst_element], report.worst_balance, tolerance));
}

Elimination& Steady::factored(const Network& network) {
  elimination_.clear();
  evaluation_.couple(network, elimination_);
  elimination_.factor();
  return elimination_;
}

}  // namespace airtally::solve
