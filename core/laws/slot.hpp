#pragma once
#include "gas/air.hpp"
#include "laws/flow.hpp"

/// Laminar flow through narrow gaps: the rotary joint's clearance and the part on the nozzle's rim.
namespace airtally::laws {

/// An annular clearance between a shaft and its bush.
struct Clearance {
  double gap = 0.0;           ///< radial clearance h [m], small against the diameter
  double diameter = 0.0;      ///< [m]
  double length = 0.0;        ///< [m]
  double eccentricity = 0.0;  ///< 0 (concentric) to 1 (touching)
};
Flow clearance(const Clearance& path, const Ends& ends, const gas::Air& air);

/// Re = 2 |m| / (pi d mu); above about 1000 the clearance law leaves out inertia that matters.
double clearance_reynolds(const Clearance& path, double m, const gas::Air& air);

/// A radial gap between a flat part and a nozzle's rim.
struct FaceGap {
  double gap = 0.0;    ///< h [m]
  double inner = 0.0;  ///< inner radius [m]
  double outer = 0.0;  ///< outer radius [m], above the inner
};
Flow face_gap(const FaceGap& path, const Ends& ends, const gas::Air& air);

}  // namespace airtally::laws
