#pragma once

/// The place where the machine stands: what "ambient" means there.
namespace airtally::gas {

/// Ambient pressure and temperature. Plain data: laws that use them throw DomainError where one is not positive.
struct Site {
  double pressure = 101325.0;   ///< [Pa, absolute] > 0; one atmosphere unless stated
  double temperature = 293.15;  ///< of the air, the walls and what leaks in [K] > 0
};

/// Pressure of the standard atmosphere [Pa] at geopotential `altitude` H [m], -1000 to 11000:
///
///   p = 101325 (T/288.15)^(g0/(R L)),   T = 288.15 - L H,   L = 0.0065 K/m, g0 = 9.80665 m/s2, R = 287.05287 J/(kg K)
///
/// A map's height is geometric; taking it for H costs 1.4 Pa at 1000 m and 13 Pa at 3000 m. The day's weather moves the
/// real pressure by 3 % either way: a measured pressure is always better.
/// Throws: DomainError outside -1000 to 11000 m.
/// Source: ISO 2533:1975, the same as the US Standard Atmosphere 1976. Tested by tests/literature/air_test.cpp.
double pressure_at_altitude(double altitude);

}  // namespace airtally::gas
