#pragma once
#include <vector>

#include "laws/flow.hpp"
#include "solve/elimination.hpp"
#include "solve/last_flow.hpp"
#include "solve/network.hpp"

namespace airtally::solve {

/// Node pressures [Pa, absolute] as sums of two doubles: in a wide short duct the drop is lost in the rounding of one.
struct Pressures {
  std::vector<double> p;    ///< per node [Pa, absolute]
  std::vector<double> low;  ///< per node: what `p` rounds away [Pa]; may be all zero

  /// `n` nodes, all at `value` [Pa, absolute].
  explicit Pressures(std::size_t n = 0, double value = 0.0) : p(n, value), low(n, 0.0) {}
};

/// Secant of a pump between free flow and ultimate vacuum, in p^2 [kg/(s Pa^2)]; `ambient` [Pa, absolute].
double pump_secant(const Source& source, double ambient);

/// All flows of a network at given pressures, with their slopes: what steady and transient solves are made of.
/// Keeps each path's last flow as the start of the next evaluation, which changes its cost and not its result.
class Evaluation {
 public:
  /// `pattern`: an elimination over the network's nodes and pairs(), which couple() will be given.
  explicit Evaluation(const Network& network, const Elimination& pattern);

  /// Evaluates every path and source of `network` (the one given to the constructor, or a copy in another state).
  /// `close`: how close the laws that iterate come (laws/flow.hpp). Throws DomainError for a pressure that no law
  /// takes.
  void at(const Network& network, const Pressures& pressures, double close = laws::exactly);
  /// Flow laws bend: near rest they are linear, from a fraction of a pascal on they go as the root of the drop. A
  /// tangent taken at too great a drop then foretells the right flow at the wrong pressures, and Newton's method jumps
  /// to and fro for ever. So where a path's flow is not what its last tangent foretold, this takes the new tangent at
  /// the drop where the law gives the foretold flow: flows lead and pressures follow. (Water networks are solved so,
  /// Todini and Pilati 1988, and junctions in circuits.) Replaces `flow` and `net` by those of the tangents: a linear
  /// model, fit for couple() and a solve alone, and no answer, until the next at().
  void lead(const Network& network, const Pressures& pressures);
  /// Keeps what the secants foretell, given their solution: p^2 per node [Pa^2].
  void foretell_secants(const Network& network, const std::vector<double>& squares);
  /// Keeps what the tangents foretell for a step of the pressures, one per node [Pa].
  void foretell(const Network& network, const std::vector<double>& step);
  /// Forgets what was foretold.
  void forget();
  /// Adds the slopes of the last evaluation to a cleared elimination.
  void couple(const Network& network, Elimination& elimination) const;
  /// Replaces the slopes in a cleared elimination by secants k of m = k (p_a^2 - p_b^2), each taken at a drop of 0.1 %
  /// of ambient, and adds to `rhs` what the outside pressures bring: the network as if all of it were laminar.
  void couple_secants(const Network& network, Elimination& elimination, std::vector<double>& rhs);

  std::vector<laws::Flow> flow;      ///< per path, a -> b [kg/s], with its slopes
  std::vector<laws::PumpFlow> pull;  ///< per source, out of the line [kg/s], with its slope
  std::vector<double> net;           ///< per node: inflow minus outflow [kg/s]
  std::vector<double> through;       ///< per node: half the sum of all flows' sizes [kg/s]
  std::size_t count = 0;             ///< evaluations so far

  /// Conductance that stands for a removed restriction [kg/(s Pa)]: its drop is 1e-13 of ambient at full pump flow.
  static double short_conductance(const Network& network);

 private:
  struct Place {
    int ab = -1;  ///< coupling index of the slope with p_a; -1: one end is outside, or the two are one place
    int ba = -1;
  };
  std::vector<Place> slots_;  ///< per path: coupling towards the pump-side node from the tip-side node (or its mouth)
  std::vector<LastFlow> last_;
  std::vector<double> secants_;        ///< per path [kg/(s Pa^2)]: those of the start
  std::vector<double> foretold_;       ///< per path [kg/s]; not a number: nothing
  std::vector<double> foretold_pull_;  ///< per source
  double short_ = 0.0;
};

}  // namespace airtally::solve
