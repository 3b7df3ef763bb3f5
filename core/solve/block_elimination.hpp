#pragma once
#include <array>
#include <memory>
#include <span>
#include <vector>

#include "solve/ordering.hpp"

namespace airtally::solve {

/// A 2 x 2 block, row by row.
using Block = std::array<double, 4>;

/// Sparse elimination with two unknowns per node, on the same order as the one-unknown kind. General signs: the pivot
/// blocks are inverted as they are, which the storage terms of a time step keep well away from singular.
class BlockElimination {
 public:
  explicit BlockElimination(std::shared_ptr<const Ordering> ordering);

  std::vector<Block>& diagonal() { return diagonal_; }    ///< per node
  std::vector<Block>& couplings() { return couplings_; }  ///< by the ordering's coupling index
  const Ordering& ordering() const { return *ordering_; }
  void clear();

  /// Eliminates in place.
  void factor();
  /// Solves A x = b in place; b holds the two unknowns of node 0, then of node 1, and so on.
  void solve(std::span<double> b) const;

 private:
  std::shared_ptr<const Ordering> ordering_;
  std::vector<Block> diagonal_, couplings_, inverse_;
};

}  // namespace airtally::solve
