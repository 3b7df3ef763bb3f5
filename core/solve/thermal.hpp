#pragma once
#include <array>
#include <vector>

#include "solve/block_elimination.hpp"
#include "solve/bounce.hpp"
#include "solve/line_system.hpp"

namespace airtally::solve {

/// The line in motion with air that cools as it expands and takes heat from the walls.
///
/// Per node, with tau = T/T0 (T0 the site's temperature and that of the walls) and q = rho R T0, the pressure that the
/// node's air would have at T0, so that tau = p/q:
///
///   V/(R T0)       dq/dt = sum of m in - sum of m out
///   V/(gamma R T0) dp/dt = sum of m tau_upstream in - sum of m tau out - w (tau - 1),   w = 3.66 k/cp * sum of
///   (area/width)
///
/// the balances of mass and of energy, both in kg/s. A flow carries the temperature of the end that it comes from (its
/// enthalpy passes restrictions unchanged), and its law takes viscosity and density at that temperature; leaks and
/// vents bring air at T0. Where a tube is cut into pieces, the flow from piece to piece carries the temperature at
/// their border, to second order (carried.hpp), and the law takes the mean of the two ends. A pump takes its volume
/// flow: the mass that its curve says, times T0/T. Unknowns: p and q [Pa] per node, then the mass and energy brought
/// in, as the pressures they make in the whole line [Pa].
///
/// A place without volume gets a millionth of an even share of the line's, since its temperature would be undefined
/// when nothing flows. Left out: conduction along the line, the walls' own heating, change of k with temperature.
/// Source: first law for an open volume (any thermodynamics text); Nu = 3.66 for developed laminar flow at constant
/// wall temperature (Incropera). Tested by tests/solve/thermal_test.cpp.
class ThermalLine final : public LineSystem {
 public:
  /// `exchange`: factor on the wall exchange [-] >= 0; 0 is adiabatic, 1 the model above, a large one isothermal.
  ThermalLine(Network network, double exchange);

  std::vector<double> state(const Pressures& pressures) const override;
  std::size_t pressure_index(int node) const override { return 2 * static_cast<std::size_t>(node); }
  double temperature(std::span<const double> x, int node) const override;
  Account content(std::span<const double> x) const override;
  Account brought_in(std::span<const double> x) const override;

  std::size_t size() const override { return mass_.size(); }
  std::span<const double> mass() const override { return mass_; }
  void rate(double t, std::span<const double> x, std::span<double> f) override;
  void rate_and_factor(double t, std::span<const double> x, double shift, std::span<double> f) override;
  void solve(std::span<double> b) override;
  void accepted(double t, std::span<const double> x) override;

 private:
  struct Stream;
  /// Couplings of the slopes with the node before the one that a flow comes from.
  struct BeforeSlots {
    int row_a = -1, row_b = -1;
  };
  /// What a path knows of the tube that it is a piece of.
  struct Neighbours {
    Ordering::Slot ends{};
    bool piece = false;
    int before_a = outside, before_b = outside;  ///< next nodes of the tube beyond its ends
    BeforeSlots slots_a, slots_b;
  };

  void find_neighbours();
  void evaluate(double t, std::span<const double> x, std::span<double> f, bool with_slopes);
  void evaluate_nodes(std::span<const double> x, std::span<double> f, bool with_slopes);
  void evaluate_sources(std::span<double> f, bool with_slopes);
  Stream stream_of(std::size_t path, bool with_slopes);
  void couple(std::size_t path, const Stream& stream);

  std::size_t n_;
  BlockElimination elimination_;
  std::vector<Neighbours> neighbours_;  ///< per path
  std::vector<gas::Air> air_;           ///< per node
  std::vector<double> p_, tau_, wall_;  ///< per node
  std::vector<LastFlow> last_;          ///< per path
  Bounce bounce_;
  double accepted_at_ = 0.0;   ///< end of the last step [s]
  std::vector<double> drops_;  ///< per path, for bounce_
  std::vector<double> mass_;
  std::vector<double> gained_mass_, gained_energy_;  ///< per unknown of the nodes: slope of what comes in from outside
  double shift_ = 0.0;
};

}  // namespace airtally::solve
