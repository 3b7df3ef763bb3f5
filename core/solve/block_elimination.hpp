#pragma once
#include <array>
#include <memory>
#include <span>
#include <vector>

#include "solve/ordering.hpp"

namespace airtally::solve {

/// A 2 x 2 block, row by row. Units are those of what is solved.
using Block = std::array<double, 4>;

/// Sparse elimination with two unknowns per node, on the same order as the one-unknown kind. General signs: the pivot
/// blocks are inverted as they are, which the storage terms of a time step keep well away from singular.
class BlockElimination {
 public:
  /// For the nodes and couplings of `ordering`, all zero; not null.
  explicit BlockElimination(std::shared_ptr<const Ordering> ordering);

  /// Per node, to be added to before factor().
  std::vector<Block>& diagonal() { return diagonal_; }
  /// By the ordering's coupling index, to be added to before factor().
  std::vector<Block>& couplings() { return couplings_; }
  /// The order it works in.
  const Ordering& ordering() const { return *ordering_; }
  /// Makes all blocks zero.
  void clear();

  /// Eliminates in place. A pivot block without a determinant counts as zero: its unknowns become 0.
  void factor();
  /// Solves A x = b in place; b holds the two unknowns of node 0, then of node 1, and so on. Needs factor().
  void solve(std::span<double> b) const;

 private:
  std::shared_ptr<const Ordering> ordering_;
  std::vector<Block> diagonal_, couplings_, inverse_;
};

}  // namespace airtally::solve
