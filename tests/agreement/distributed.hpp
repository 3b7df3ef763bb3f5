#pragma once
#include <vector>

#include "gas/air.hpp"
#include "laws/conductance.hpp"
#include "laws/pump_curve.hpp"

namespace airtally::agreement {

/// One tube between a pump with some volume and a volume at the tip into which a hole leaks; isothermal, everything at
/// ambient at first.
struct TubeLine {
  double bore = 0.0, length = 0.0;             ///< [m]
  double pump_volume = 0.0, tip_volume = 0.0;  ///< [m3]
  laws::PumpCurve pump;
  laws::Conductance leak;
  gas::Air air{};
  double ambient = 0.0;  ///< [Pa]
};

enum class Inertia { left_out, kept };

/// Vacuum of the tip volume over time.
struct Course {
  std::vector<double> time, vacuum;  ///< [s], [Pa]
  double final_vacuum = 0.0;         ///< [Pa]
  double at(double t) const;
  /// Last entry into the band of 5 % around `final` [s].
  double settle(double final) const;
};

/// The tube in `cells` cells through CVODE, sampled `samples` times up to `end` [s].
///
/// Inertia left out: each half-cell gap between two cell centres carries what the duct law says. Kept: the equations of
/// one-dimensional isothermal gas dynamics on a staggered grid,
///
///   A dp/dt/(R T) = -dm/dx,   dm/dt = -d(m u)/dx - A dp/dx - f m |m|/(2 D rho A),   u = m/(rho A),  rho = p/(R T)
///
/// with f from Churchill at the local Reynolds number (quasi-steady friction), d(m u)/dx upwinded, and 1.5 velocity
/// heads lost where the flow enters the tube, none recovered where it leaves. Source: any text on gas dynamics;
/// staggered grid after Patankar, Numerical Heat Transfer and Fluid Flow (1980), ch. 6 (from memory).
Course distributed(const TubeLine& line, int cells, Inertia inertia, double end, int samples, double relative = 1e-7);

}  // namespace airtally::agreement
