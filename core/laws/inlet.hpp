#pragma once
#include <cmath>

#include "gas/air.hpp"

namespace airtally::laws {

/// a = (gamma - 1)/2 [-].
inline constexpr double half_excess = 0.5 * (gas::gamma - 1.0);

/// What the isentropic inlet of a passage gives, with its slopes at fixed stagnation pressure p1. Symbols as in
/// passage().
struct Inlet {
  double loss;     ///< p1 - pi [Pa]
  double dense;    ///< P1 = pi (1 + a y) [Pa]
  double flux;     ///< G [kg/(s m2)]
  double d_dense;  ///< dP1/dM [Pa]
  double d_flux;   ///< dG/dM [kg/(s m2)]
};

/// The inlet at Mach number M >= 0 just inside, from stagnation pressure `p1` [Pa], with `entrance` loss K and
/// `sonic` = sqrt(gamma/(R T)) [s/m]. Small quantities keep their digits at low M: nothing is found by subtraction.
/// Ranges are passage()'s to check.
/// Tested through passage() by tests/laws/passage_test.cpp.
Inlet inlet_at(double mach, double p1, double entrance, double sonic);

/// Mach number [-] at which the inlet's flow is largest, from 1 at `entrance` loss K = 0 down to 0.91 at 0.5: the root
/// y of x^(gamma/(gamma-1)) (1 - y) = K (gamma/2) y, x = 1 + a y, y = M^2 (from dG/dM = 0). Tested through
/// choked_flow() by tests/laws/passage_test.cpp.
double largest_mach(double entrance);

/// A Mach number [-] surely below that, by at most 15 %: without a search.
inline double below_largest_mach(double entrance) { return 0.95 / std::sqrt(1.0 + 0.72 * entrance); }

}  // namespace airtally::laws
