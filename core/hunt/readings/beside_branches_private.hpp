#pragma once
#include <optional>

#include "hunt/readings/beside.hpp"
#include "line/topology.hpp"

namespace airtally::hunt {

/// That reading beside the branches of the strip, not compared yet; nothing where it is neither of the whole line nor
/// of the line without one branch, the tips left on it as in the strip. Its setting must be as_compared().
std::optional<BesideBranch> branch_beside(const line::Line& line, const line::Topology& topology,
                                          const study::Strip& strip, const Bench& bench, const Reading& reading);

/// Compares each branch with the whole line as the same instrument read it, and finds the one that surprises most, by
/// more than `beyond` standard deviations of the two readings.
void compare_branches(double beyond, BesideAll& all);

}  // namespace airtally::hunt
