#pragma once
#include <memory>
#include <span>
#include <vector>

#include "solve/ordering.hpp"

namespace airtally::solve {

/// Sparse elimination for the networks we meet: trees, with here and there a loop.
///
/// The matrix A belongs to "net outflow of every node as a function of the node pressures". Raising p_j can only raise
/// the outflow of j and lower that of its neighbours, and what leaves j for a neighbour arrives there: A has a positive
/// diagonal, negative off-diagonals, and the sum of column j is what j loses to the outside (ambient, pump, its own
/// storage): its *excess*, >= 0. So we store only the off-diagonals (as positive numbers) and the excesses; the
/// diagonal is their sum. Elimination in these terms never subtracts (Grassmann, Taksar and Heyman, Oper. Res. 33
/// (1985) 1107), so a removed restriction, a million times as open as the rest, costs no digits, and no pivoting is
/// needed.
///
/// Tested by tests/solve/elimination_test.cpp.
class Elimination {
 public:
  /// `n` nodes, and the pairs of nodes 0 .. n - 1, two different ones each, between which something may flow.
  Elimination(int n, std::span<const std::pair<int, int>> pairs);

  /// Number of nodes.
  int size() const { return ordering_->size(); }
  /// Coupling indices of a pair: add the slope of the flow first -> second with the pressure of first to
  /// couplings()[slot.from_first], and that of second -> first with the pressure of second to the other; both >= 0.
  Ordering::Slot slot(int first, int second) const { return ordering_->slot(first, second); }
  /// The order it works in, never null; others may share it.
  const std::shared_ptr<const Ordering>& ordering() const { return ordering_; }

  /// All couplings, to be cleared and added to before factor(); each >= 0.
  std::vector<double>& couplings() { return off_; }
  /// Excess per node, to be cleared and added to before factor(); each >= 0.
  std::vector<double>& excess() { return excess_; }
  /// Makes all couplings and excesses zero.
  void clear();

  /// Eliminates in place. A node with no coupling and no excess at all keeps its value: its row becomes x = 0.
  void factor();
  /// Solves A x = b in place; b in node order. Needs factor().
  void solve(std::span<double> b) const;
  /// Solves A^T x = b in place; b in node order. Needs factor().
  void solve_transposed(std::span<double> b) const;

  /// Off-diagonal pairs including fill.
  std::size_t pairs() const { return ordering_->pairs(); }

 private:
  std::shared_ptr<const Ordering> ordering_;
  std::vector<double> off_, excess_, inverse_;
};

}  // namespace airtally::solve
