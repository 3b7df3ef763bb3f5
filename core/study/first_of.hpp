#pragma once
#include <algorithm>
#include <cstddef>
#include <vector>

namespace airtally::study {

/// Differences this small decide nothing: of tips that are alike, the last digits of a solve are not the same on every
/// machine, and the answer must not hang on them.
inline constexpr double pressure_tie = 0.01;  ///< [Pa]
inline constexpr double time_tie = 1e-6;      ///< [s]

/// Index of the first item whose `value` is the least of all, or above it by no more than `tie`. Not of an empty list.
template <class Item, class Value>
std::size_t first_least(const std::vector<Item>& items, const Value& value, double tie) {
  double least = value(items.front());
  for (const Item& item : items) least = std::min(least, value(item));
  std::size_t i = 0;
  while (value(items[i]) > least + tie) ++i;
  return i;
}

}  // namespace airtally::study
