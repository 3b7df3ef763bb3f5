#pragma once
#include <vector>

#include "solve/elimination.hpp"
#include "solve/evaluation.hpp"
#include "solve/line_system.hpp"

namespace airtally::solve {

/// The line in motion with its air at the site's temperature: (V / R T) dp/dt = sum of flows. Unknowns: p [Pa] per
/// node, and the mass brought in, as the pressure that it makes in the whole line [Pa]. Nodes without volume are
/// algebraic.
class Isothermal final : public LineSystem {
 public:
  /// The line as `network` has it, which may be changed later by network().
  explicit Isothermal(Network network);

  std::vector<double> state(const Pressures& pressures) const override;
  std::size_t pressure_index(int node) const override { return static_cast<std::size_t>(node); }
  double temperature(std::span<const double>, int) const override { return network_.air.temperature; }
  void settle_massless(double t, std::vector<double>& x) override;
  Account content(std::span<const double> x) const override;
  Account brought_in(std::span<const double> x) const override;

  std::size_t size() const override { return mass_.size(); }
  std::span<const double> mass() const override { return mass_; }
  void rate(double t, std::span<const double> x, std::span<double> f) override;
  void rate_and_factor(double t, std::span<const double> x, double shift, std::span<double> f) override;
  void solve(std::span<double> b) override;

 private:
  Elimination elimination_;
  Evaluation evaluation_;
  Pressures pressures_;
  std::vector<double> mass_;    ///< per node, and that of the whole line last
  std::vector<double> gained_;  ///< slope of the inflow from outside with each node's pressure
  double shift_ = 0.0;
};

}  // namespace airtally::solve
