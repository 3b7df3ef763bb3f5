#pragma once
#include <span>
#include <utility>
#include <vector>

namespace airtally::solve {

/// Sparse elimination for the networks we meet: trees, with here and there a loop.
///
/// The matrix A belongs to "net outflow of every node as a function of the node pressures". Raising p_j can only raise
/// the outflow of j and lower that of its neighbours, and what leaves j for a neighbour arrives there: A has positive
/// diagonal, negative off-diagonals, and the sum of column j is what j loses to the outside (ambient, pump, its own
/// storage), its *excess* >= 0. So we store only the off-diagonals (as positive numbers) and the excesses; the diagonal
/// is their sum. Elimination in these terms never subtracts (Grassmann, Taksar and Heyman 1985), so a removed
/// restriction, a million times as open as the rest, costs no digits, and no pivoting is needed.
///
/// Order: leaves first, then least degree. A tree has no fill: one multiplication a node. The symbolic work is done
/// once per topology, in the constructor: O(n) for trees.
///
/// Tested by tests/solve/elimination_test.cpp.
class Elimination {
 public:
  /// `n` nodes, and the pairs of nodes (either order, no duplicates needed to be removed) between which something may
  /// flow.
  Elimination(int n, std::span<const std::pair<int, int>> pairs);

  int size() const { return n_; }

  /// Where the couplings of a pair live: add to `flow(index)` what the outflow of `from` loses ... see the two members.
  struct Slot {
    int from_first;   ///< index into couplings(): slope of the flow first -> second with the pressure of first, >= 0
    int from_second;  ///< the same for second -> first
  };
  /// The slot of a pair given to the constructor (O(degree)).
  Slot slot(int first, int second) const;

  /// All couplings, to be cleared and added to before factor(); each >= 0.
  std::vector<double>& couplings() { return off_; }
  /// Excess per node, to be cleared and added to before factor(); each >= 0.
  std::vector<double>& excess() { return excess_; }
  void clear();

  /// Eliminates in place. A node with no coupling and no excess at all keeps its value: its row becomes x = 0.
  void factor();
  /// Solves A x = b in place; b in node order. Needs factor().
  void solve(std::span<double> b) const;
  /// Solves A^T x = b in place.
  void solve_transposed(std::span<double> b) const;

  /// Off-diagonal pairs including fill.
  std::size_t pairs() const { return later_.size(); }

 private:
  // Slots of pivot k (in elimination order) are first_[k] .. first_[k+1]. Slot s joins pivot k with node later_[s],
  // which is eliminated later. off_[2 s] couples k -> later (row later, column k), off_[2 s + 1] couples later -> k.
  int n_;
  std::vector<int> order_;  // order_[k]: the node eliminated k-th
  std::vector<int> rank_;   // the inverse
  std::vector<int> first_;
  std::vector<int> later_;
  struct Fill {
    int s, t, target;
  };  // off_[target] += off_[2s] * off_[2t+1] / d
  std::vector<Fill> fill_;
  std::vector<int> first_fill_;
  std::vector<double> off_, excess_, inverse_;
};

}  // namespace airtally::solve
