#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "line/topology.hpp"
#include "solve/elimination.hpp"
#include "solve/evaluation.hpp"
#include "solve/line_system.hpp"
#include "solve/network.hpp"

/// What every solver in the benchmarks is given: the same residual, the same slopes, the same start.
namespace airtally::bench {

/// A line in one tip state, with a little volume (0.05 mL) wherever it has none, since not every peer takes algebraic
/// equations.
struct Subject {
  line::Line line;
  line::Topology topology;
  solve::Network network;
  int tip = 0;  ///< node whose pressure is compared: the first nozzle's

  Subject(line::Line l, solve::TipState state);
};

/// One of the invented lines.
line::Line scenario(const std::string& name);

/// Net inflow of every node [kg/s] at node pressures [Pa] and its Jacobian, in the forms that the peers take.
class Problem {
 public:
  explicit Problem(const solve::Network& network);

  std::size_t size() const { return pressures_.p.size(); }
  /// Sets every path in motion to its state at time t [s].
  void drive(double t);
  /// How exact the flows have to be, as the relative error of a step: the rule that our own integration has. Until then
  /// as exact as a steady solve to 1e-9 needs.
  void needs(double relative);
  /// Evaluates all flows and slopes. False where a pressure is not positive: no law is defined there.
  bool at(std::span<const double> p);
  std::span<const double> net() const { return evaluation_.net; }
  std::span<const double> through() const { return evaluation_.through; }

  /// d net/d p at the last point: into `elimination` as couplings and excesses, cleared before.
  void couple(solve::Elimination& elimination) const;
  /// The same as entries: `add(row, column, value)`.
  template <class Add>
  void each_slope(Add&& add) {
    couple(elimination_);
    const std::vector<double>& off = elimination_.couplings();
    for (const Pair& pair : pairs_) {
      const double ab = off[pair.slot.from_first], ba = off[pair.slot.from_second];
      add(pair.b, pair.a, ab);
      add(pair.a, pair.a, -ab);
      add(pair.a, pair.b, ba);
      add(pair.b, pair.b, -ba);
    }
    for (std::size_t i = 0; i < size(); ++i) add(static_cast<int>(i), static_cast<int>(i), -elimination_.excess()[i]);
  }
  /// Pressures from the laminar secants [Pa]: where our own steady solver starts.
  std::vector<double> start();

  const solve::Network& network() const { return network_; }
  solve::Elimination& elimination() { return elimination_; }
  std::size_t evaluations() const { return evaluation_.count; }
  std::vector<double> mass;        ///< V/(R T) per node [kg/Pa]
  std::vector<solve::Ramp> ramps;  ///< paths that are being opened or closed

 private:
  struct Pair {
    int a, b;
    solve::Ordering::Slot slot;
  };
  solve::Network network_;
  solve::Elimination elimination_;
  solve::Evaluation evaluation_;
  solve::Pressures pressures_;
  std::vector<Pair> pairs_;
  double close_ = 1e-6;  ///< of the laws that iterate
};

}  // namespace airtally::bench
