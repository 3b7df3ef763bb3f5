#pragma once
#include "gas/air.hpp"
#include "laws/flow.hpp"

/// Laminar flow through narrow gaps: the rotary joint's clearance and the part on the nozzle's rim. Both have friction,
/// with the first-order slip factor of a slot, 1 + 6 Kn, Kn = lambda(p_mean)/h at p_mean = (p1 + p2)/2, and behind it
/// velocity heads of the air at its fastest, at the density of the low end:
///
///   p1^2 - p2^2 = a m/(1 + 6 Kn) + c m^2 (1 + p1/p2),   c = heads R T/(2 A^2)
///
/// for p1 > p2. As p2 falls the flow grows until 2 p2^3 = c p1 m^2, but for slip, and stays so: it is choked.
/// One head is 54/35 for the parabolic profile between plates, and a clearance's air, which comes from rest through a
/// sharp edge, loses half a head more there.
///
/// Range: Reynolds number below about 1000, Kn below about 0.1 (a 5 um gap at 13 kPa); beyond that, and at Kn 0.01 to
/// 0.1 within the factor 2 by which sources of lambda differ, it is an estimate. The momentum of isothermal flow along
/// a slot of even width has 2 (6/5) ln(p1/p2) heads more where this has heads (p1/p2 - 1)/2: at half the pressure a
/// fifth more, so that this leaks rather more than that. A land of no length passes 0.83 of the isentropic nozzle in a
/// face gap and 0.72 in a clearance.
/// Source: text-book first-order slip with full accommodation, and the parabola's kinetic energy; derived, formulas
/// from memory.
namespace airtally::laws {

/// An annular clearance between a shaft and its bush.
struct Clearance {
  double gap = 0.0;           ///< radial clearance h [m] > 0, small against the diameter
  double diameter = 0.0;      ///< d [m] > 0
  double length = 0.0;        ///< L [m] > 0
  double eccentricity = 0.0;  ///< e [-], 0 (concentric) to 1 (touching)
};

/// Isothermal laminar flow along a clearance:
///
///   1/a = pi d h^3 (1 + 1.5 e^2)/(24 mu R T L),   A = pi d h,   heads = 54/35 + 1/2
///
/// Odd, and laminar whatever the flow. Valid: h << d and h << L; clearance_reynolds() below about 1000.
/// Not modelled: rotation of the shaft, what eccentricity makes of the heads.
/// Throws: DomainError for a pressure or dimension that is not positive, or e outside 0 to 1.
/// Source: Reynolds' thin-film equation; the factor of eccentricity: Tao and Donovan, Trans. ASME 77 (1955) 1291.
/// Tested by tests/laws/slot_test.cpp and tests/literature/leak_test.cpp.
Flow clearance(const Clearance& path, const Ends& ends, const gas::Air& air);

/// Re = 2 |m|/(pi d mu) [-] of mass flow `m` [kg/s]; above about 1000 the flow need not be laminar. Throws: DomainError
/// for a diameter that is not positive. Tested by tests/literature/leak_test.cpp.
double clearance_reynolds(const Clearance& path, double m, const gas::Air& air);

/// A radial gap between a flat part and a nozzle's rim.
struct FaceGap {
  double gap = 0.0;    ///< h [m] > 0
  double inner = 0.0;  ///< inner radius ri [m] > 0
  double outer = 0.0;  ///< outer radius ro [m], above the inner
};

/// Isothermal laminar flow through a face gap, inwards or outwards:
///
///   1/a = pi h^3/(12 mu R T ln(ro/ri)),   A = 2 pi ri h,   heads = 54/35
///
/// Odd. Valid: h << ro - ri, both faces flat and parallel. The entrance, wider, is left out. Outwards the air is
/// fastest where it enters, denser there but with a sharp edge to turn; for that the heads at the other end stand,
/// within about a tenth. Not modelled: roughness of the faces. Under a nozzle that comes down the gap is wider than
/// that, and the heads take over: the curtain between rim and part has Borda's 1 + 1/2 of them, 1.4 % of the flow off
/// the parabola's 54/35, and so one law serves from the approach to the touch (Borda: any fluid mechanics text; common
/// practice, no source for a closing nozzle). Throws: DomainError for a pressure or dimension that is not positive, or
/// ro <= ri. Source: Zuk et al., NASA TN D-6668 (1972); formula from memory. Tested by tests/laws/slot_test.cpp and
/// tests/literature/leak_test.cpp.
Flow face_gap(const FaceGap& path, const Ends& ends, const gas::Air& air);

}  // namespace airtally::laws
