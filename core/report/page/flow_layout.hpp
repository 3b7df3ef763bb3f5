#pragma once
#include <cstddef>
#include <vector>

#include "line/topology.hpp"

namespace airtally::report::page {

/// Where an element stands in a drawing of the line.
struct FlowCell {
  std::size_t element = 0;
  std::size_t depth = 0;  ///< elements between it and its source
  std::size_t lane = 0;   ///< branch: the lanes lie below one another, or beside each other where the flow runs down
};

/// Along the flow from left to right: one column per depth, branches below one another. The first branch goes straight
/// on. In the order of a walk from each source to the tips.
std::vector<FlowCell> across(const line::Topology& topology);

/// Down the page: one row per element in the order of the walk; the last branch goes straight on, the others stand
/// aside. `depth` is the row.
std::vector<FlowCell> downwards(const line::Topology& topology);

}  // namespace airtally::report::page
