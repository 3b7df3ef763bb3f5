#include "report/page/place_labels.hpp"

#include <algorithm>

namespace airtally::report::page {

bool overlap(const Box& a, const Box& b) {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

bool PlacedLabels::free(const Box& box) const {
  return std::none_of(taken_.begin(), taken_.end(), [&](const Box& other) { return overlap(box, other); });
}

bool PlacedLabels::place(Box& box, double most) {
  constexpr int tries = 12;  // each way
  const double y = box.y;
  for (int k = 0; k <= 2 * tries; ++k) {
    // 0, up 1, down 1, up 2, ...
    const int step = (k + 1) / 2;
    const double off = most * step / tries;
    box.y = k % 2 == 1 ? y - off : y + off;
    if (!free(box)) continue;
    taken_.push_back(box);
    return true;
  }
  box.y = y;
  return false;
}

}  // namespace airtally::report::page
