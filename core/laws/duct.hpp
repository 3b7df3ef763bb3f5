#pragma once
#include "gas/air.hpp"
#include "laws/flow.hpp"

namespace airtally::laws {

/// A round tube, hollow spindle or coupler bore.
struct Duct {
  double bore = 0.0;          ///< D [m] > 0
  double length = 0.0;        ///< L [m] > 0
  double roughness = 0.0;     ///< eps [m], 0 to 0.1 D
  double loss_forward = 0.0;  ///< K, the sum of minor loss factors for flow from end 1 to end 2 [-] >= 0
  double loss_back = 0.0;     ///< the same for flow from end 2 to end 1 [-] >= 0
};

/// Isothermal flow through a duct, all friction regimes, with choking:
///
///   p1^2 - pe^2 = G^2 R T [ f(Re, Kn, eps/D) L/D + K + 2 ln(p1/pe) ],   G = m/A,  A = pi D^2/4,  Re = G D/mu
///
/// f: churchill(), with slip at Kn = lambda(p_mean)/D, p_mean = (p1 + pe)/2. The exit pressure pe is p2, or, when p2 is
/// lower than the pressure at which G is largest (pe^2 = G^2 R T but for slip: Mach 1/sqrt(gamma)), that pressure; the
/// flow then no longer depends on p2. K counts velocity heads at the local pressure, so a loss's place does not matter.
/// Odd (with the loss factors exchanged), rising in p1, falling in p2, continuous with its slopes.
///
/// `guess` [kg/s] is a start for the inner iteration (0: none), `close` says how close that must come (flow.hpp). With
/// `exactly` the guess never changes the answer beyond 1e-13 of it; accuracy of the solution: 1e-13, of the slopes:
/// 1e-7. Valid: perfect heat exchange with the wall, which a tube of a hundred bores nearly has. Not modelled: the
/// developing laminar profile of an entrance (it adds about 1.25 velocity heads to a long laminar tube), curvature,
/// inertia. Throws: DomainError for a pressure, bore or length that is not positive, a negative roughness or K, or a
/// roughness above 0.1 D. Source: isothermal duct flow as in White, Fluid Mechanics, ch. 9 (formula from memory), with
/// the minor losses added. Tested by tests/laws/duct_test.cpp, tests/literature/friction_test.cpp and
/// tests/literature/compressible_test.cpp.
Flow duct(const Duct& duct, const Ends& ends, const gas::Air& air, double guess = 0.0, double close = exactly);

/// How the flow through a duct goes with its bore, dm/dD [kg/(s m)] at given ends, from the same F(G, pe; D) = 0: dm/dD
/// = 2 m/D - A (dF/dD)/(dF/dG), without a search where `flow` [kg/s] is duct() of the same. dF/dD takes c ~ 1/D^2,
/// Re ~ D, Kn ~ 1/D and the relative roughness ~ 1/D. Accuracy and ranges as the slopes of duct(), and the same throws.
/// Tested by tests/laws/duct_test.cpp against differences.
double duct_by_bore(const Duct& duct, const Ends& ends, const gas::Air& air, double flow);

/// Reynolds number 4 |m|/(pi D mu) [-] of mass flow `m` [kg/s] in a round bore D [m] > 0.
/// Throws: DomainError for a bore that is not positive. Tested by tests/literature/friction_test.cpp.
double reynolds(double m, double bore, const gas::Air& air);

}  // namespace airtally::laws
