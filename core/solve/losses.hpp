#pragma once
#include "line/topology.hpp"

namespace airtally::solve {

/// Minor loss factors of one end of a duct, on the duct's own dynamic pressure [-].
struct EndLoss {
  double entering = 0.5;  ///< air enters the duct here [-], 0 to 0.5
  double leaving = 1.0;   ///< air leaves the duct here [-], 0 to 1
};

/// Those of both ends.
struct EndLosses {
  EndLoss tip;   ///< of the end towards the tip
  EndLoss pump;  ///< of the end towards the pump
};

/// Losses of the duct element `i`, an index into the line, at its two ends; full ones for an element without a bore.
/// Where exactly two bores meet, the narrower one takes the whole loss: Borda-Carnot's (1 - s)^2 when air leaves it and
/// 0.5 (1 - s) when it enters, s the area ratio below 1; the wider takes none. At tees, volumes, valves, filters, traps
/// and sources both ends are full: 0.5 in and 1.0 out. Source: Borda-Carnot and Weisbach as in any fluid mechanics text
/// (White, Fluid Mechanics, minor losses).
EndLosses end_losses(const line::Line& line, const line::Topology& topology, std::size_t i);

}  // namespace airtally::solve
