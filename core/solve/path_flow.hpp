#pragma once
#include "laws/flow.hpp"
#include "solve/network.hpp"

namespace airtally::solve {

/// The ends of a path at pressures `pa` and `pb` [Pa]. The drop is that beyond what the path takes before it opens (a
/// check valve's cracking pressure; 0 for all others), taken off here because it loses digits anywhere else; `low` [Pa]
/// is the part of p_a - p_b that the two pressures round away.
laws::Ends path_ends(const Path& path, double pa, double pb, double low = 0.0);

/// Flow [kg/s] of one path, a to b, at ends from path_ends(), with air of state `air` entering it; none when it is
/// closed or its factor is 0. Throws DomainError for a pressure that is not positive. `guess` [kg/s] holds the path's
/// last flow and takes the new one; `short_conductance` [kg/(s Pa)] stands for a restriction that is taken away;
/// `close`: how close the law comes, where it iterates (laws/flow.hpp).
laws::Flow path_flow(const Path& path, const laws::Ends& ends, const gas::Air& air, double short_conductance,
                     double& guess, double close = laws::exactly);

/// Drop that the path takes before it opens [Pa] >= 0; only a check valve that is there has one.
double cracking_of(const Path& path);

}  // namespace airtally::solve
