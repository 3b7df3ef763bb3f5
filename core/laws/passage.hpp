#pragma once
#include "gas/air.hpp"
#include "laws/flow.hpp"

namespace airtally::laws {

/// A nozzle's bore or another short throat that air enters from a wide place and leaves into one.
struct Passage {
  double bore = 0.0;           ///< D [m] > 0
  double length = 0.0;         ///< L [m] >= 0
  double roughness = 0.0;      ///< eps [m], 0 to 0.1 D
  double entrance_loss = 0.5;  ///< K of the entrance [-] >= 0
};

/// Adiabatic flow with friction (Fanno) behind an isentropic inlet with entrance loss. From stagnation (p1, T) to just
/// inside (static pi, Mach number M1), and from there over f L/D to the exit (pe, M2):
///
///   pi = p1/[ (1 + a y1)^(gamma/(gamma-1)) + K (gamma/2) y1 ],   y = M^2,  a = (gamma-1)/2
///   P1^2 - P2^2 = G^2 R T [ f(Re, eps/D) L/D + ((gamma+1)/gamma) ln(P1/P2) ],   P = p (1 + a y) = rho R T
///
/// f: churchill() at Re = G D/mu with mu at the stagnation temperature (up to 16 % too high near Mach 1, where f hardly
/// depends on it). pe is p2, or, when p2 is lower, the pressure at which the exit is sonic. A passage so short that G,
/// as a function of M1, has its largest value before the exit is sonic (at (1 + a y)^(gamma/(gamma-1)) (1 - y) =
/// K (gamma/2) y, Mach 0.91 for K = 0.5) chokes there. The head at the exit is lost. `air` is at the upstream
/// temperature; the far side takes the same stagnation temperature.
/// Odd, rising in p1, falling in p2, continuous with its slopes. Limits: isentropic choked flow as K and L go to 0,
/// Hagen-Poiseuille's law as Re goes to 0. A length below D/1000 counts as D/1000, or the slope at rest would be
/// infinite; above Re 1000 that takes less than 1e-4 off the flow of an ideal nozzle.
///
/// `guess` [kg/s] is a start for the inner iteration (0: none), `close` says how close that must come (flow.hpp). With
/// `exactly` the guess never changes the answer beyond 1e-13 of it; accuracy of the solution: 1e-13, of the slopes:
/// 1e-7. Not modelled: slip, the vena contracta beyond what K takes, the developing laminar profile. Throws:
/// DomainError for a pressure or bore that is not positive, a negative length, roughness or K, or a roughness above 0.1
/// D. Source: Fanno flow as tabulated in Farokhi, Aircraft Propulsion, 2nd ed. (2014), App. E; its form in P follows
/// from momentum and energy balances without dividing by M^2, and so keeps its digits at low flow. Tested by
/// tests/laws/passage_test.cpp and tests/literature/compressible_test.cpp.
Flow passage(const Passage& passage, const Ends& ends, const gas::Air& air, double guess = 0.0, double close = exactly);

/// The flow [kg/s] at which this passage chokes with stagnation pressure `p1` [Pa] > 0 upstream. Throws: as passage().
/// Tested by tests/laws/passage_test.cpp.
double choked_flow(const Passage& passage, double p1, const gas::Air& air);

}  // namespace airtally::laws
