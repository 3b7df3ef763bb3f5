#pragma once
#include "solve/elimination.hpp"
#include "solve/evaluation.hpp"
#include "solve/network.hpp"

namespace airtally::solve {

/// How a steady solve went.
struct SteadyReport {
  int unknowns = 0;            ///< places: one pressure each
  int iterations = 0;          ///< linear solves, the start included
  int evaluations = 0;         ///< of all flows with slopes
  bool fallback = false;       ///< plain Newton was not enough and the pseudo-transient took over
  double worst_balance = 0.0;  ///< largest imbalance of a node, relative to the flow through it (see Steady::floor) [-]
  std::size_t worst_element = 0;  ///< element of that node, an index into the line
};

/// Finds the pressures at which every node's flows add up to nothing.
///
/// Unknowns: node pressures p, each a sum of two doubles. Start: one linear solve in p^2 with every path a near-laminar
/// secant (its flow at 0.1 % drop) and every pump a straight line in p^2. Then Newton's steps, with the tangent of a
/// path that has overshot taken where the law gives the flow that was foretold (Evaluation::lead), so that roots, check
/// valves and pumps at their ultimate vacuum send no step to and fro. Every iterate is kept between the lowest pressure
/// a source can pull and the highest outside, where the solution must lie (maximum principle). When the imbalance stops
/// falling all the same, pseudo-transient continuation takes over: every node gets a storage that is let go as the
/// imbalance falls (Kelley and Keyes, SIAM J. Numer. Anal. 35 (1998) 508), which follows the physical pull-down.
/// Behind check valves that are shut, where nothing flows and many pressures balance, places come to rest as the end of
/// a pull-down from ambient has them (rest_shut_places()). Measured on 100,000 random lines
/// (tests/support/random_line.hpp): 7 evaluations at the median, 9 at the 99th percentile, none in need of the
/// continuation, none unsolved. Tested by tests/solve/steady_test.cpp.
///
/// Done when every node's imbalance is below 1e-9 of the flow through it, or below 1e-15 of the sources' free flow
/// where next to nothing flows; it goes on below that while it still gains. Bounded: throws NoConvergence, naming the
/// element.
class Steady {
 public:
  /// For this network, or copies of it in other states.
  explicit Steady(const Network& network);

  /// Solves from a cold start into `x`, whatever it held. Throws NoConvergence.
  SteadyReport solve(const Network& network, Pressures& x);
  /// Solves from `x` as it is, one pressure per node: for a network that changed little. Throws NoConvergence.
  SteadyReport resolve(const Network& network, Pressures& x);

  /// Flows at the solution.
  const Evaluation& evaluation() const { return evaluation_; }
  /// The factored slopes at the solution, for sensitivities: call after a solve.
  Elimination& factored(const Network& network);

  static constexpr double tolerance = 1e-9;  ///< largest imbalance of a node, of the flow through it [-]
  /// The same of the sources' free flow, where less than 1e-6 of that runs through a node [-].
  static constexpr double floor = 1e-15;

  /// Imbalance at which a solve stops at once; above it, and below the tolerance, it stops when a step gains nothing. A
  /// hunt, whose readings know nothing of the seventh digit, is content with less, which may be looser than the
  /// tolerance and then stands in its place. Relative to the flow through a node [-].
  double enough = 1e-12;

  /// Forces the fallback from the first step on: tests use it to show that it works by itself.
  bool force_fallback = false;

 private:
  void start(const Network& network, Pressures& x);
  SteadyReport iterate(const Network& network, Pressures& x);
  void rest_shut(const Network& network, Pressures& x, SteadyReport& report);
  double imbalance(const Network& network, SteadyReport& report) const;
  void step(const Network& network, Pressures& x, double storage);

  Elimination elimination_;
  Evaluation evaluation_;
  std::vector<double> delta_;
  double lowest_ = 0.0, highest_ = 0.0;
};

}  // namespace airtally::solve
