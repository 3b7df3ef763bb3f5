#pragma once
#include "solve/evaluation.hpp"
#include "solve/network.hpp"

namespace airtally::solve {

/// Gives the places that nothing flows through the pressure they come to, where check valves are shut.
///
/// A check valve without flow holds any drop up to its cracking drop, and any drop the wrong way round: behind one that
/// is shut, in a line without a leak, every pressure low enough balances. What a pull-down from ambient ends at, and a
/// vanishing leak leads to, is the highest of them: a place falls until the valve beyond it has no more than its
/// cracking drop, and a source that others shut off pulls itself to its own ultimate pressure.
///
/// So places joined by what lets air through form an island, cut off by shut valves. An island at rest takes the lowest
/// of these: its sources' ultimate pressures, the pressures outside that it is open to, for each shut valve that leads
/// out of it the pressure beyond plus the cracking drop (the shortest way in a graph, Dijkstra 1959), and the room's,
/// where the pull-down starts. Islands that air moves in stay as they are. One that nothing bounds, as a closed valve
/// cuts it off, is at the room's pressure, unless blow-off reaches it: then it stays as it is.
///
/// `evaluation` is the one at `x`, a solution. Flows of the solver's floor and less count as none. Returns
/// whether any place moved; the evaluation is then out of date. Tested by tests/solve/shut_places_test.cpp.
bool rest_shut_places(const Network& network, const Evaluation& evaluation, Pressures& x);

}  // namespace airtally::solve
