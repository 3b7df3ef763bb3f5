#include "solve/block_elimination.hpp"

#include <algorithm>
#include <utility>

namespace airtally::solve {
namespace {

Block product(const Block& a, const Block& b) {
  return {a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3]};
}

void subtract(Block& from, const Block& what) {
  for (std::size_t i = 0; i < 4; ++i) from[i] -= what[i];
}

/// Inverse; a block of zeros (a place that nothing touches) gives zeros, which leaves its unknowns alone.
Block inverse_of(const Block& a) {
  const double determinant = a[0] * a[3] - a[1] * a[2];
  if (determinant == 0.0) return {0.0, 0.0, 0.0, 0.0};
  const double r = 1.0 / determinant;
  return {a[3] * r, -a[1] * r, -a[2] * r, a[0] * r};
}

/// y -= a x, for two unknowns each.
void subtract_product(double* y, const Block& a, const double* x) {
  y[0] -= a[0] * x[0] + a[1] * x[1];
  y[1] -= a[2] * x[0] + a[3] * x[1];
}

}  // namespace

BlockElimination::BlockElimination(std::shared_ptr<const Ordering> ordering)
    : ordering_(std::move(ordering)),
      diagonal_(static_cast<std::size_t>(ordering_->size())),
      couplings_(2 * ordering_->pairs()),
      inverse_(diagonal_.size()) {}

void BlockElimination::clear() {
  std::fill(diagonal_.begin(), diagonal_.end(), Block{});
  std::fill(couplings_.begin(), couplings_.end(), Block{});
}

void BlockElimination::factor() {
  const Ordering& o = *ordering_;
  for (int k = 0; k < o.size(); ++k) {
    const int node = o.order[k];
    inverse_[node] = inverse_of(diagonal_[node]);
    // Coupling 2 s becomes the multiplier that takes the pivot's row out of the later node's row.
    for (int s = o.first[k]; s < o.first[k + 1]; ++s) {
      Block& multiplier = couplings_[2 * s];
      multiplier = product(multiplier, inverse_[node]);
      subtract(diagonal_[o.later[s]], product(multiplier, couplings_[2 * s + 1]));
    }
    for (int f = o.first_fill[k]; f < o.first_fill[k + 1]; ++f)
      subtract(couplings_[o.fill[f].target], product(couplings_[2 * o.fill[f].s], couplings_[2 * o.fill[f].t + 1]));
  }
}

void BlockElimination::solve(std::span<double> b) const {
  const Ordering& o = *ordering_;
  for (int k = 0; k < o.size(); ++k) {
    const double* pivot = &b[2 * o.order[k]];
    for (int s = o.first[k]; s < o.first[k + 1]; ++s) subtract_product(&b[2 * o.later[s]], couplings_[2 * s], pivot);
  }
  for (int k = o.size() - 1; k >= 0; --k) {
    double* pivot = &b[2 * o.order[k]];
    for (int s = o.first[k]; s < o.first[k + 1]; ++s)
      subtract_product(pivot, couplings_[2 * s + 1], &b[2 * o.later[s]]);
    const Block& inverse = inverse_[o.order[k]];
    const double p = pivot[0], q = pivot[1];
    pivot[0] = inverse[0] * p + inverse[1] * q;
    pivot[1] = inverse[2] * p + inverse[3] * q;
  }
}

}  // namespace airtally::solve
