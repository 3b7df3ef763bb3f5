#include "solve/ordering.hpp"

#include <algorithm>
#include <queue>

namespace airtally::solve {

Ordering::Ordering(int n, std::span<const std::pair<int, int>> pairs) {
  std::vector<std::vector<int>> near(static_cast<std::size_t>(n));
  for (const auto& [a, b] : pairs) {
    near[a].push_back(b);
    near[b].push_back(a);
  }
  for (auto& list : near) {
    std::sort(list.begin(), list.end());
    list.erase(std::unique(list.begin(), list.end()), list.end());
  }

  // Eliminate on paper; `near` holds the couplings of what is left.
  using Entry = std::pair<std::size_t, int>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
  for (int i = 0; i < n; ++i) queue.emplace(near[i].size(), i);
  std::vector<bool> gone(static_cast<std::size_t>(n), false);
  std::vector<std::vector<int>> coupled;
  coupled.reserve(static_cast<std::size_t>(n));
  order.reserve(static_cast<std::size_t>(n));
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
    coupled.push_back(std::move(near[k]));
  }

  rank.resize(static_cast<std::size_t>(n));
  for (int k = 0; k < n; ++k) rank[order[k]] = k;
  for (auto& list : coupled) {
    std::sort(list.begin(), list.end(), [&](int a, int b) { return rank[a] < rank[b]; });
    first.push_back(static_cast<int>(later.size()));
    later.insert(later.end(), list.begin(), list.end());
  }
  first.push_back(static_cast<int>(later.size()));
  for (int k = 0; k < n; ++k) {
    first_fill.push_back(static_cast<int>(fill.size()));
    for (int s = first[k]; s < first[k + 1]; ++s)
      for (int t = first[k]; t < first[k + 1]; ++t)
        if (s != t) fill.push_back({s, t, slot(later[t], later[s]).from_first});
  }
  first_fill.push_back(static_cast<int>(fill.size()));
}

Ordering::Slot Ordering::slot(int one, int other) const {
  const bool one_goes_first = rank[one] < rank[other];
  const int pivot = rank[one_goes_first ? one : other];
  const int partner = one_goes_first ? other : one;
  const auto begin = later.begin() + first[pivot], end = later.begin() + first[pivot + 1];
  const int s = static_cast<int>(std::find(begin, end, partner) - later.begin());
  return one_goes_first ? Slot{2 * s, 2 * s + 1} : Slot{2 * s + 1, 2 * s};
}

}  // namespace airtally::solve
