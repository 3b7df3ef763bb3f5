#include "solve/elimination.hpp"

#include <algorithm>

namespace airtally::solve {

Elimination::Elimination(int n, std::span<const std::pair<int, int>> pairs)
    : ordering_(std::make_shared<Ordering>(n, pairs)),
      off_(2 * ordering_->pairs(), 0.0),
      excess_(static_cast<std::size_t>(n), 0.0),
      inverse_(static_cast<std::size_t>(n), 0.0) {}

void Elimination::clear() {
  std::fill(off_.begin(), off_.end(), 0.0);
  std::fill(excess_.begin(), excess_.end(), 0.0);
}

void Elimination::factor() {
  const Ordering& o = *ordering_;
  for (int k = 0; k < o.size(); ++k) {
    const int node = o.order[k];
    double diagonal = excess_[node];
    for (int s = o.first[k]; s < o.first[k + 1]; ++s) diagonal += off_[2 * s];
    const double inverse = diagonal > 0.0 ? 1.0 / diagonal : 0.0;
    inverse_[node] = inverse;
    for (int f = o.first_fill[k]; f < o.first_fill[k + 1]; ++f)
      off_[o.fill[f].target] += off_[2 * o.fill[f].s] * inverse * off_[2 * o.fill[f].t + 1];
    const double lost = excess_[node] * inverse;
    for (int s = o.first[k]; s < o.first[k + 1]; ++s) excess_[o.later[s]] += lost * off_[2 * s + 1];
  }
}

void Elimination::solve(std::span<double> b) const {
  const Ordering& o = *ordering_;
  for (int k = 0; k < o.size(); ++k) {
    const int node = o.order[k];
    const double share = b[node] * inverse_[node];
    for (int s = o.first[k]; s < o.first[k + 1]; ++s) b[o.later[s]] += off_[2 * s] * share;
  }
  for (int k = o.size() - 1; k >= 0; --k) {
    const int node = o.order[k];
    double sum = b[node];
    for (int s = o.first[k]; s < o.first[k + 1]; ++s) sum += off_[2 * s + 1] * b[o.later[s]];
    b[node] = sum * inverse_[node];
  }
}

void Elimination::solve_transposed(std::span<double> b) const {
  const Ordering& o = *ordering_;
  for (int k = 0; k < o.size(); ++k) {
    const int node = o.order[k];
    const double share = b[node] * inverse_[node];
    for (int s = o.first[k]; s < o.first[k + 1]; ++s) b[o.later[s]] += off_[2 * s + 1] * share;
  }
  for (int k = o.size() - 1; k >= 0; --k) {
    const int node = o.order[k];
    double sum = b[node];
    for (int s = o.first[k]; s < o.first[k + 1]; ++s) sum += off_[2 * s] * b[o.later[s]];
    b[node] = sum * inverse_[node];
  }
}

}  // namespace airtally::solve
