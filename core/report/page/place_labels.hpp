#pragma once
#include <vector>

namespace airtally::report::page {

struct Box {
  double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
};

bool overlap(const Box& a, const Box& b);

/// Labels that keep out of each other's way.
class PlacedLabels {
 public:
  /// Moves the box up or down, by the least that makes it free of all placed before, but no farther than `most` [px].
  /// False, and the box is not placed, when there is no room.
  bool place(Box& box, double most);
  /// Takes the room without asking.
  void block(const Box& box) { taken_.push_back(box); }

 private:
  bool free(const Box& box) const;
  std::vector<Box> taken_;
};

}  // namespace airtally::report::page
