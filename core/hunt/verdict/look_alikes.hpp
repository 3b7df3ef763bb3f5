#pragma once
#include <vector>

#include "hunt/verdict/worst.hpp"

namespace airtally::hunt {

/// Groups of elements, each of two or more, that the readings can't tell apart: each may be the worst, and in the
/// samples where one of them is, the other costs less than half of what it costs where it is the worst itself. So two
/// culprits that are both known for sure are no look-alikes, however near their costs. Most probable first.
/// `probability`: per element, that it is the worst; `weight`: per sample, adding up to 1.
std::vector<std::vector<std::size_t>> look_alikes(const Costs& costs, const std::vector<double>& probability,
                                                  const std::vector<double>& weight);

}  // namespace airtally::hunt
