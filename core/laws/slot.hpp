#pragma once
#include "gas/air.hpp"
#include "laws/flow.hpp"

/// Laminar flow through narrow gaps: the rotary joint's clearance and the part on the nozzle's rim. Both carry the
/// first-order slip factor of a slot, 1 + 6 Kn, Kn = lambda(p_mean)/h at p_mean = (p1 + p2)/2. As lambda is
/// proportional to 1/p, it leaves the law a difference of parabolas:
///
///   m = k (p1 - p2) (p1 + p2 + 12 s/h),   s = lambda p = mu sqrt(pi R T/2)
///
/// First-order slip is good to Kn of about 0.1 (a 5 um gap at 13 kPa); beyond it, and at Kn 0.01 to 0.1 within the
/// factor 2 by which sources of lambda differ, it is an estimate. Source: text-book first-order slip with full
/// accommodation; formula from memory.
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
///   m = pi d h^3 (1 + 1.5 e^2)/(24 mu R T L) (p1 - p2)(p1 + p2 + 12 s/h)
///
/// Odd, and laminar whatever the flow. Valid: h << d and h << L; clearance_reynolds() below about 1000.
/// Not modelled: inertia at the entrance, choking, rotation of the shaft.
/// Throws: DomainError for a pressure or dimension that is not positive, or e outside 0 to 1.
/// Source: Reynolds' thin-film equation; the factor of eccentricity: Tao and Donovan, Trans. ASME 77 (1955) 1291.
/// Tested by tests/laws/slot_test.cpp and tests/literature/leak_test.cpp.
Flow clearance(const Clearance& path, const Ends& ends, const gas::Air& air);

/// Re = 2 |m|/(pi d mu) [-] of mass flow `m` [kg/s]; above about 1000 the clearance law leaves out inertia that
/// matters. Throws: DomainError for a diameter that is not positive. Tested by tests/literature/leak_test.cpp.
double clearance_reynolds(const Clearance& path, double m, const gas::Air& air);

/// A radial gap between a flat part and a nozzle's rim.
struct FaceGap {
  double gap = 0.0;    ///< h [m] > 0
  double inner = 0.0;  ///< inner radius ri [m] > 0
  double outer = 0.0;  ///< outer radius ro [m], above the inner
};

/// Isothermal laminar flow through a face gap, inwards or outwards:
///
///   m = pi h^3/(12 mu R T ln(ro/ri)) (p1 - p2)(p1 + p2 + 12 s/h)
///
/// Odd. Valid: h << ro - ri, both faces flat and parallel. Not modelled: inertia, roughness of the faces, choking.
/// Throws: DomainError for a pressure or dimension that is not positive, or ro <= ri.
/// Source: Zuk et al., NASA TN D-6668 (1972); formula from memory.
/// Tested by tests/laws/slot_test.cpp and tests/literature/leak_test.cpp.
Flow face_gap(const FaceGap& path, const Ends& ends, const gas::Air& air);

}  // namespace airtally::laws
