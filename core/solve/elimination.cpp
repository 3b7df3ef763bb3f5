#include "solve/elimination.hpp"

#include <algorithm>
#include <queue>
#include <set>

namespace airtally::solve {
namespace {

/// Eliminates nodes on paper: least degree first (leaves have degree one, so a tree is peeled from its leaves), adding
/// the pairs that each elimination couples. Gives the order and, per node in that order, its later neighbours.
struct Symbolic {
  std::vector<int> order;
  std::vector<std::vector<int>> later;

  Symbolic(int n, std::span<const std::pair<int, int>> pairs) {
    std::vector<std::vector<int>> near(static_cast<std::size_t>(n));
    for (const auto& [a, b] : pairs) {
      near[a].push_back(b);
      near[b].push_back(a);
    }
    for (auto& list : near) {
      std::sort(list.begin(), list.end());
      list.erase(std::unique(list.begin(), list.end()), list.end());
    }
    using Entry = std::pair<std::size_t, int>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
    for (int i = 0; i < n; ++i) queue.emplace(near[i].size(), i);
    std::vector<bool> gone(static_cast<std::size_t>(n), false);
    order.reserve(static_cast<std::size_t>(n));
    later.reserve(static_cast<std::size_t>(n));
    while (!queue.empty()) {
      const auto [degree, k] = queue.top();
      queue.pop();
      if (gone[k] || degree != near[k].size()) continue;  // an entry from before its degree changed
      gone[k] = true;
      order.push_back(k);
      for (int i : near[k]) {
        auto& list = near[i];
        list.erase(std::lower_bound(list.begin(), list.end(), k));
        for (int j : near[k]) {
          if (i == j) continue;
          const auto at = std::lower_bound(list.begin(), list.end(), j);
          if (at == list.end() || *at != j) list.insert(at, j);
        }
        queue.emplace(list.size(), i);
      }
      later.push_back(std::move(near[k]));
    }
  }
};

}  // namespace

Elimination::Elimination(int n, std::span<const std::pair<int, int>> pairs) : n_(n) {
  Symbolic symbolic(n, pairs);
  order_ = std::move(symbolic.order);
  rank_.resize(static_cast<std::size_t>(n));
  for (int k = 0; k < n; ++k) rank_[order_[k]] = k;
  for (int k = 0; k < n; ++k) {
    auto& list = symbolic.later[k];
    std::sort(list.begin(), list.end(), [&](int a, int b) { return rank_[a] < rank_[b]; });
    first_.push_back(static_cast<int>(later_.size()));
    later_.insert(later_.end(), list.begin(), list.end());
  }
  first_.push_back(static_cast<int>(later_.size()));
  off_.assign(2 * later_.size(), 0.0);
  excess_.assign(static_cast<std::size_t>(n), 0.0);
  inverse_.assign(static_cast<std::size_t>(n), 0.0);

  for (int k = 0; k < n; ++k) {
    first_fill_.push_back(static_cast<int>(fill_.size()));
    for (int s = first_[k]; s < first_[k + 1]; ++s)
      for (int t = first_[k]; t < first_[k + 1]; ++t)
        if (s != t) fill_.push_back({s, t, slot(later_[t], later_[s]).from_first});
  }
  first_fill_.push_back(static_cast<int>(fill_.size()));
}

Elimination::Slot Elimination::slot(int first, int second) const {
  const bool first_is_pivot = rank_[first] < rank_[second];
  const int pivot = rank_[first_is_pivot ? first : second];
  const int other = first_is_pivot ? second : first;
  const auto begin = later_.begin() + first_[pivot], end = later_.begin() + first_[pivot + 1];
  const int s = static_cast<int>(std::find(begin, end, other) - later_.begin());
  return first_is_pivot ? Slot{2 * s, 2 * s + 1} : Slot{2 * s + 1, 2 * s};
}

void Elimination::clear() {
  std::fill(off_.begin(), off_.end(), 0.0);
  std::fill(excess_.begin(), excess_.end(), 0.0);
}

void Elimination::factor() {
  for (int k = 0; k < n_; ++k) {
    const int node = order_[k];
    double diagonal = excess_[node];
    for (int s = first_[k]; s < first_[k + 1]; ++s) diagonal += off_[2 * s];
    const double inverse = diagonal > 0.0 ? 1.0 / diagonal : 0.0;
    inverse_[node] = inverse;
    for (int f = first_fill_[k]; f < first_fill_[k + 1]; ++f)
      off_[fill_[f].target] += off_[2 * fill_[f].s] * inverse * off_[2 * fill_[f].t + 1];
    const double lost = excess_[node] * inverse;
    for (int s = first_[k]; s < first_[k + 1]; ++s) excess_[later_[s]] += lost * off_[2 * s + 1];
  }
}

void Elimination::solve(std::span<double> b) const {
  for (int k = 0; k < n_; ++k) {
    const int node = order_[k];
    const double share = b[node] * inverse_[node];
    for (int s = first_[k]; s < first_[k + 1]; ++s) b[later_[s]] += off_[2 * s] * share;
  }
  for (int k = n_ - 1; k >= 0; --k) {
    const int node = order_[k];
    double sum = b[node];
    for (int s = first_[k]; s < first_[k + 1]; ++s) sum += off_[2 * s + 1] * b[later_[s]];
    b[node] = sum * inverse_[node];
  }
}

void Elimination::solve_transposed(std::span<double> b) const {
  for (int k = 0; k < n_; ++k) {
    const int node = order_[k];
    const double share = b[node] * inverse_[node];
    for (int s = first_[k]; s < first_[k + 1]; ++s) b[later_[s]] += off_[2 * s + 1] * share;
  }
  for (int k = n_ - 1; k >= 0; --k) {
    const int node = order_[k];
    double sum = b[node];
    for (int s = first_[k]; s < first_[k + 1]; ++s) sum += off_[2 * s] * b[later_[s]];
    b[node] = sum * inverse_[node];
  }
}

}  // namespace airtally::solve
