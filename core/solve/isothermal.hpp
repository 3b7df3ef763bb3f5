#pragma once
#include <vector>

#include "solve/elimination.hpp"
#include "solve/evaluation.hpp"
#include "solve/network.hpp"
#include "solve/stiff_system.hpp"

namespace airtally::solve {

/// The line in motion with its air at the site's temperature: (V / R T) dp/dt = sum of flows, one unknown p [Pa] per
/// node. Nodes without volume are algebraic.
class Isothermal final : public StiffSystem {
 public:
  explicit Isothermal(const Network& network);

  /// Uses another state of the same network (other tips, other modes) from now on.
  void use(const Network& network);

  /// Brings the nodes without volume into balance with the others, which stay as they are: to be called at the start
  /// and after every sudden change. Throws NoConvergence.
  void settle_massless(std::vector<double>& x);

  std::size_t size() const override { return mass_.size(); }
  std::span<const double> mass() const override { return mass_; }
  void rate(double t, std::span<const double> x, std::span<double> f) override;
  void rate_and_factor(double t, std::span<const double> x, double shift, std::span<double> f) override;
  void solve(std::span<double> b) override { elimination_.solve(b); }
  bool moves(double, double) const override { return false; }

  std::size_t evaluations() const { return evaluation_.count; }

 private:
  void evaluate(std::span<const double> x);

  const Network* network_;
  double least_;  ///< a pressure safely below any that can occur [Pa]
  Elimination elimination_;
  Evaluation evaluation_;
  Pressures pressures_;
  std::vector<double> mass_;
};

}  // namespace airtally::solve
