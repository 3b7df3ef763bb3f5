#pragma once

/// Dry air as an ideal gas: the constants and the state that every flow law needs.
namespace airtally::gas {

inline constexpr double R = 287.05;        ///< specific gas constant [J/(kg K)]; US Standard Atmosphere 1976
inline constexpr double gamma = 1.4;       ///< ratio of specific heats [-]
inline constexpr double cp = 1004.7;       ///< specific heat at constant pressure [J/(kg K)]
inline constexpr double cv = cp - R;       ///< specific heat at constant volume [J/(kg K)]

/// Free air ("ANR"): the reference state of every flow given in litres. A definition, not a result; ISO 8778.
inline constexpr double free_air_density = 1.185;       ///< [kg/m3]
inline constexpr double free_air_temperature = 293.15;  ///< [K]
inline constexpr double free_air_pressure = 100e3;      ///< [Pa]

inline constexpr double standard_pressure = 101325.0;   ///< one atmosphere [Pa]

/// Dynamic viscosity of air [Pa s] at `temperature` [K], 150 to 500. Source: Sutherland's formula with the constants
/// 1.716e-5 Pa s at 273.15 K and 110.4 K.
double viscosity(double temperature);

/// Mean free path [m] at `pressure` [Pa] > 0 and `temperature` [K]: (mu/p) sqrt(pi R T/2). Source: Jennings, J. Aerosol
/// Sci. 19 (1988) 159, its kinetic form. Newer molecular-dynamics values are a factor 1.8 lower.
double mean_free_path(double pressure, double temperature);

/// Speed of sound [m/s] at `temperature` [K]: sqrt(gamma R T).
double sound_speed(double temperature);

/// What a flow law needs to know of the air that enters it, worked out once per temperature.
struct Air {
  double temperature;  ///< [K]
  double rt;           ///< R T [J/kg]
  double viscosity;    ///< [Pa s]
  double slip;         ///< mean free path times pressure, mu sqrt(pi R T/2) [Pa m]
};

/// The air at `temperature` [K].
Air air_at(double temperature);

}  // namespace airtally::gas
