#pragma once
#include "gas/air.hpp"
#include "laws/flow.hpp"

namespace airtally::laws {

/// A flow path known by its data-sheet figures (ISO 6358-1).
struct Conductance {
  double c = 0.0;  ///< sonic conductance C [m3/(s Pa)] of free air, >= 0
  double b = 0.5;  ///< critical pressure ratio [-], 0 to 0.95
};

/// Flow through an ISO 6358 path, with r = p2/p1 (p1 the upstream pressure) and `air` at the upstream temperature T:
///
///   m = C rho0 p1 sqrt(T0/T) w(r)
///   w = 1                                  r <= b            (choked)
///   w = sqrt(1 - ((r - b)/(1 - b))^2)      b < r <= 0.999
///   w = a x + c x^3,  x = 1 - r            r > 0.999         (a, c match value and slope at 0.999)
///
/// rho0, T0: free air, 1.185 kg/m3 and 293.15 K. The cubic stands in for the root, whose slope is infinite at rest; a
/// real valve is laminar there, and its data sheet says nothing. Odd; value and slopes are continuous.
/// Not modelled: the standard's own exponent m other than 0.5 and its cracking pressure; Reynolds number.
/// Throws: DomainError if a pressure is not positive, C is negative, or b lies outside 0 to 0.95.
/// Source: ISO 6358-1:2013. Tested by tests/laws/conductance_test.cpp and tests/literature/conductance_test.cpp.
Flow conductance(const Conductance& path, const Ends& ends, const gas::Air& air);

/// The conductance of a sharp-edged hole of `diameter` [m] > 0: C = 0.040418 Cd A/(rho0 sqrt(T0)), b = 0.528.
/// `discharge` Cd [-]: 0 to 1; a real sharp edge has 0.61 at small drop to 0.84 when choked (Perry, Trans. ASME 71
/// (1949) 757), the default is a middle value held at every ratio. The ellipse lies within 0.2 % of choked flow of the
/// isentropic nozzle. Throws: DomainError outside those ranges.
/// Source: isentropic choked flow, gamma 1.4, R 287. Tested by tests/literature/conductance_test.cpp.
Conductance hole(double diameter, double discharge = 0.72);

}  // namespace airtally::laws
