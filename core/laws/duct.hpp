#pragma once
#include "gas/air.hpp"
#include "laws/flow.hpp"

namespace airtally::laws {

/// A round tube, hollow spindle or coupler bore.
struct Duct {
  double bore = 0.0;       ///< [m] > 0
  double length = 0.0;     ///< [m] > 0
  double roughness = 0.0;  ///< [m] >= 0
  double loss_forward = 0.0;  ///< sum of minor loss factors K for flow from end 1 to end 2 [-] >= 0
  double loss_back = 0.0;     ///< the same for flow from end 2 to end 1
};

/// Isothermal duct flow. `guess` [kg/s] is a start for the inner iteration (0: none); it never changes the answer
/// beyond 1e-13 of it.
Flow duct(const Duct& duct, const Ends& ends, const gas::Air& air, double guess = 0.0);

/// Reynolds number 4 |m| / (pi D mu) of mass flow `m` [kg/s] in a round bore [m].
double reynolds(double m, double bore, const gas::Air& air);

}  // namespace airtally::laws
