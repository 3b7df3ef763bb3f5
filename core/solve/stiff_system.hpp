#pragma once
#include <cstddef>
#include <span>
#include <vector>

namespace airtally::solve {

/// A stiff system in mass-matrix form, M dx/dt = f(t, x), with a diagonal M >= 0. Rows with M = 0 are algebraic: a
/// place without volume. The system does its own linear algebra, since it knows its own structure.
class StiffSystem {
 public:
  virtual ~StiffSystem() = default;
  /// Number of unknowns.
  virtual std::size_t size() const = 0;
  /// Diagonal of M, one per unknown, >= 0.
  virtual std::span<const double> mass() const = 0;
  /// f at (t [s], x), one per unknown.
  virtual void rate(double t, std::span<const double> x, std::span<double> f) = 0;
  /// f at (t [s], x), and the factors of (shift M - df/dx) for the calls of solve() that follow; `shift` [1/s].
  virtual void rate_and_factor(double t, std::span<const double> x, double shift, std::span<double> f) = 0;
  /// Solves (shift M - df/dx) u = b in place, one per unknown.
  virtual void solve(std::span<double> b) = 0;
  /// Whether f depends on t by itself between `begin` and `end` [s]: a valve that is opening, a gap that is closing.
  virtual bool moves(double begin, double end) const = 0;
  /// Brings places without volume into balance with the others, which stay as they are: at the start, after every
  /// sudden change, and where steps collapse at a kink. Nothing to do where there are none. Throws NoConvergence.
  virtual void settle_massless(double, std::vector<double>&) {}
  /// Tells how exact f has to be, as the relative error that a step may make [-]; until then it is exact.
  virtual void needs(double) {}
  /// The step to (t, x) has been accepted; f may depend on it from then on.
  virtual void accepted(double, std::span<const double>) {}
};

}  // namespace airtally::solve
