#pragma once
#include <span>
#include <utility>
#include <vector>

namespace airtally::solve {

/// The symbolic half of a sparse elimination on a structurally symmetric matrix: in which order nodes go, what each is
/// coupled to when it goes, and which couplings that creates. Done once per topology.
///
/// Leaves go first, then the node of least degree: a tree is peeled without fill, in O(n log n).
class Ordering {
 public:
  /// `n` nodes, and the pairs of nodes 0 .. n - 1, two different ones each, that are coupled (either order; repeats do
  /// no harm).
  Ordering(int n, std::span<const std::pair<int, int>> pairs);

  /// Indices of the two couplings of a pair.
  struct Slot {
    int from_first;   ///< row second, column first
    int from_second;  ///< row first, column second
  };
  /// The slot of a coupled pair (O(degree)).
  Slot slot(int first, int second) const;

  /// Number of nodes.
  int size() const { return static_cast<int>(order.size()); }
  /// Number of coupled pairs, fill included; couplings are numbered 0 .. 2 pairs() - 1.
  std::size_t pairs() const { return later.size(); }

  std::vector<int> order;  ///< order[k]: the node that goes k-th
  std::vector<int> rank;   ///< the inverse: when each node goes
  std::vector<int> first;  ///< slots of the k-th node to go are first[k] .. first[k + 1] - 1
  /// Per slot: the other node, which goes later. Coupling 2 s has row later[s], 2 s + 1 the pivot's row.
  std::vector<int> later;
  /// When pivot k goes, slots s and t couple later[s] (row) with later[t] (column) in coupling `target`.
  struct Fill {
    int s,       ///< slot of the pivot whose node is the row
        t,       ///< slot of the pivot whose node is the column
        target;  ///< index of the coupling
  };
  std::vector<Fill> fill;       ///< in the order in which nodes go
  std::vector<int> first_fill;  ///< fills of the k-th node are first_fill[k] .. first_fill[k + 1] - 1
};

}  // namespace airtally::solve
