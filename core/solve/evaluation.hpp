#pragma once
#include <vector>

#include "laws/flow.hpp"
#include "solve/elimination.hpp"
#include "solve/network.hpp"

namespace airtally::solve {

/// Node pressures [Pa, absolute] as sums of two doubles: in a wide short duct the drop is lost in the rounding of one.
struct Pressures {
  std::vector<double> p;    ///< per node
  std::vector<double> low;  ///< per node: what `p` rounds away; may be all zero

  explicit Pressures(std::size_t n = 0, double value = 0.0) : p(n, value), low(n, 0.0) {}
};

/// Flow of one path with air of state `air` entering it. `guess` [kg/s] holds the path's last flow and takes the new
/// one; `short_conductance` [kg/(s Pa)] stands for a restriction that is taken away.
laws::Flow path_flow(const Path& path, const laws::Ends& ends, const gas::Air& air, double short_conductance,
                     double& guess);

/// All flows of a network at given pressures, with their slopes: what steady and transient solves are made of.
/// Keeps each path's last flow as the start of the next evaluation, which changes its cost and not its result.
class Evaluation {
 public:
  explicit Evaluation(const Network& network, const Elimination& pattern);

  /// Evaluates every path and source of `network` (the one given to the constructor, or a copy in another state).
  void at(const Network& network, const Pressures& pressures);
  /// Adds the slopes of the last evaluation to a cleared elimination.
  void couple(const Network& network, Elimination& elimination) const;
  /// Replaces the slopes in a cleared elimination by secants k of m = k (p_a^2 - p_b^2), each taken at a drop of 0.1 %
  /// of ambient, and adds to `rhs` what the outside pressures bring: the network as if all of it were laminar.
  void couple_secants(const Network& network, Elimination& elimination, std::vector<double>& rhs);

  std::vector<laws::Flow> flow;      ///< per path, a -> b [kg/s]
  std::vector<laws::PumpFlow> pull;  ///< per source, out of the line
  std::vector<double> net;           ///< per node: inflow minus outflow [kg/s]
  std::vector<double> through;       ///< per node: half the sum of all flows' sizes [kg/s]
  std::size_t count = 0;             ///< evaluations so far

  /// Conductance that stands for a removed restriction [kg/(s Pa)]: its drop is 1e-13 of ambient at full pump flow.
  static double short_conductance(const Network& network);

 private:
  struct Place {
    int ab = -1;  ///< coupling index of the slope with p_a; -1: one end is outside
    int ba = -1;
  };
  std::vector<Place> slots_;  ///< per path: coupling towards the pump-side node from the tip-side node (or its mouth)
  std::vector<double> guess_;
  double short_ = 0.0;
};

}  // namespace airtally::solve
