#pragma once
#include "laws/flow.hpp"
#include "solve/network.hpp"

namespace airtally::solve {

/// The ends of a path at pressures `pa` and `pb` [Pa]. The drop is that beyond what the path takes before it opens (a
/// check valve's cracking pressure; 0 for all others), taken off here because it loses digits anywhere else; `low` [Pa]
/// is the part of p_a - p_b that the two pressures round away.
laws::Ends path_ends(const Path& path, double pa, double pb, double low = 0.0);

/// Flow of one path at ends from path_ends(), with air of state `air` entering it. `guess` [kg/s] holds the path's last
/// flow and takes the new one; `short_conductance` [kg/(s Pa)] stands for a restriction that is taken away.
laws::Flow path_flow(const Path& path, const laws::Ends& ends, const gas::Air& air, double short_conductance,
                     double& guess);

/// Drop that the path takes before it opens [Pa].
double cracking_of(const Path& path);

}  // namespace airtally::solve
