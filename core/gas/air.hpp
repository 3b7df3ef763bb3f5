#pragma once

/// Dry air as an ideal gas: the constants and the state that every flow law needs. Humidity is left out: saturated air
/// at 20 C and 100 kPa is 0.9 % lighter.
namespace airtally::gas {

inline constexpr double R = 287.05;   ///< specific gas constant [J/(kg K)]; US Standard Atmosphere 1976
inline constexpr double gamma = 1.4;  ///< ratio of specific heats [-]
inline constexpr double cp = 1004.7;  ///< specific heat at constant pressure [J/(kg K)]
inline constexpr double cv = cp - R;  ///< specific heat at constant volume [J/(kg K)]

/// Free air ("ANR"): the reference state of every flow given in litres. A definition, not a result; ISO 8778.
inline constexpr double free_air_density = 1.185;       ///< [kg/m3], at 65 % humidity
inline constexpr double free_air_temperature = 293.15;  ///< [K]
inline constexpr double free_air_pressure = 100e3;      ///< [Pa]

inline constexpr double standard_pressure = 101325.0;  ///< one atmosphere [Pa]

/// Dynamic viscosity of air [Pa s] at `temperature` T [K]:
///
///   mu = 1.716e-5 (T/273.15)^1.5 (273.15 + 110.4)/(T + 110.4)
///
/// Valid: within 1.3 % of the common engineering tables from 220 to 350 K, always on the low side; a fair extrapolation
/// from 50 to 2000 K, which is what an adiabatic pump-down may ask for. Independent of pressure.
/// Throws: DomainError outside 50 to 2000 K.
/// Source: Sutherland's formula with the constants of the US Standard Atmosphere 1976, eq. 51 (1.458e-6, 110.4 K).
/// Tested by tests/gas/air_test.cpp and tests/literature/air_test.cpp.
double viscosity(double temperature);

/// Mean free path [m] at `pressure` p [Pa] > 0 and `temperature` T [K]: (mu/p) sqrt(pi R T/2).
/// Throws: DomainError if p is not positive, and as viscosity().
/// Source: Jennings, J. Aerosol Sci. 19 (1988) 159, with 1/2 for his factor u = 0.4987 (0.25 % shorter).
/// A molecular-dynamics value (Tsalikis et al., Aerosol Sci. Technol., 2024) is 1.8 times lower, so no conclusion
/// should hang on a factor 2 in it. Tested by tests/literature/air_test.cpp.
double mean_free_path(double pressure, double temperature);

/// Speed of sound [m/s] at `temperature` T [K] > 0: sqrt(gamma R T). Throws: DomainError if T is not positive.
/// Tested by tests/literature/air_test.cpp.
double sound_speed(double temperature);

/// What a flow law needs to know of the air that enters it, worked out once per temperature.
struct Air {
  double temperature;  ///< T [K]
  double rt;           ///< R T [J/kg]
  double viscosity;    ///< mu [Pa s]
  double slip;         ///< mean free path times pressure, mu sqrt(pi R T/2) [Pa m]
};

/// The air at `temperature` [K]. Throws: as viscosity(). Tested by tests/gas/air_test.cpp.
Air air_at(double temperature);

}  // namespace airtally::gas
