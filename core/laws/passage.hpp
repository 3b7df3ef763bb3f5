#pragma once
#include "gas/air.hpp"
#include "laws/flow.hpp"

namespace airtally::laws {

/// A nozzle's bore or another short throat that air enters from a wide place and leaves into one.
struct Passage {
  double bore = 0.0;       ///< [m] > 0
  double length = 0.0;     ///< [m] >= 0
  double roughness = 0.0;  ///< [m] >= 0
  double entrance_loss = 0.5;  ///< K of the entrance [-]
};

/// Adiabatic passage flow with friction (Fanno) behind an isentropic inlet with entrance loss; chokes at Mach 1.
Flow passage(const Passage& passage, const Ends& ends, const gas::Air& air, double guess = 0.0);

/// The flow at which this passage chokes with `p1` [Pa] upstream [kg/s].
double choked_flow(const Passage& passage, double p1, const gas::Air& air);

}  // namespace airtally::laws
