#pragma once

/// The place where the machine stands: what "ambient" means there.
namespace airtally::gas {

/// Ambient pressure [Pa, absolute] and temperature [K].
struct Site {
  double pressure = 101325.0;
  double temperature = 293.15;
};

/// Pressure of the standard atmosphere [Pa] at geopotential `altitude` [m], -1000 to 11000.
/// Source: ISO 2533:1975 (= US Standard Atmosphere 1976), p = 101325 (T/288.15)^(g0/(R* L)), T = 288.15 - 0.0065 H.
/// Throws DomainError outside that range.
double pressure_at_altitude(double altitude);

}  // namespace airtally::gas
