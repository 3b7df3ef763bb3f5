#pragma once
#include <optional>

#include "hunt/readings/beside.hpp"
#include "line/topology.hpp"

namespace airtally::hunt {

/// Of what is expected: pumps differ by that from their sheets; no source.
inline constexpr double as_pumps = 0.05;

/// That reading beside the branches of the strip, not compared yet; nothing where it is neither of the whole line nor
/// of the line without some branches, the tips left on it as in the strip. Throws NoConvergence. Its setting must be
/// as_compared().
std::optional<BesideBranch> branch_beside(const line::Line& line, const line::Topology& topology,
                                          const study::Strip& strip, const Bench& bench, const Reading& reading);

/// Compares each branch with the whole line as the same instrument read it, and says what all of them say, beyond
/// `beyond` standard deviations. A branch is blamed where without it the line is as filed, and no other brings half as
/// much; else what is wrong is before the fork or in several.
void compare_branches(double beyond, BesideAll& all);

}  // namespace airtally::hunt
