#pragma once
#include "gas/air.hpp"
#include "laws/flow.hpp"

namespace airtally::laws {

/// A flow path known by its data-sheet figures (ISO 6358-1).
struct Conductance {
  double c = 0.0;  ///< sonic conductance C [m3/(s Pa)] of free air
  double b = 0.5;  ///< critical pressure ratio [-], 0 to 0.95
};

Flow conductance(const Conductance& path, const Ends& ends, const gas::Air& air);

/// The conductance of a sharp-edged hole: C = 0.040418 Cd A/(rho0 sqrt(T0)), b = 0.528.
Conductance hole(double diameter, double discharge = 0.72);

}  // namespace airtally::laws
