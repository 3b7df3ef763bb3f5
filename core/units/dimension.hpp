#pragma once
#include <string_view>

namespace airtally::units {

/// What a quantity measures. Each has its own table of units (unit.hpp) and one SI unit inside the program.
enum class Dimension {
  number,                ///< a plain number or a ratio [-]; "%" allowed
  length,                ///< [m]
  pressure,              ///< [Pa]; the key says whether it counts from ambient or from zero
  flow,                  ///< mass flow [kg/s]; litres are litres of free air
  volume,                ///< [m3]
  mass,                  ///< [kg]
  time,                  ///< [s]
  angle,                 ///< [rad]
  current,               ///< [A]
  voltage,               ///< [V]
  conductance,           ///< sonic conductance C of ISO 6358 [m3/(s Pa)]
  acceleration,          ///< [m/s2]
  temperature,           ///< [K]
  force,                 ///< [N]
  torque,                ///< [N m]
  speed,                 ///< [m/s]
  angular_speed,         ///< [rad/s]
  angular_acceleration,  ///< [rad/s2]
  frequency,             ///< [Hz]
  inertia,               ///< moment of inertia [kg m2]
  resistance,            ///< [ohm]
  density,               ///< [kg/m3]
  warming                ///< difference of two temperatures [K]: a change by 1 C is one by 1 K
};

/// The name for sentences, as in "'kPa' measures pressure": "length", "angular speed".
std::string_view name_of(Dimension dimension);

/// The name with its article, as in "a length is needed here": "a length", "an angular speed".
std::string_view name_with_article(Dimension dimension);

/// A well-written quantity to show as a pattern, such as "4 mm".
std::string_view example_of(Dimension dimension);

}  // namespace airtally::units
