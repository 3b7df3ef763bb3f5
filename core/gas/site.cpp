#include "gas/site.hpp"

#include <cmath>

#include "errors.hpp"
#include "gas/air.hpp"

namespace airtally::gas {

namespace {

constexpr double sea_level_temperature = 288.15;  // [K]
constexpr double lapse = 0.0065;                  // [K/m]
constexpr double gravity = 9.80665;               // [m/s2]
// The standard's own gas constant (8314.32/28.9644), two digits longer than ours, or the sixth digit of its table is
// lost.
constexpr double standard_r = 287.05287;  // [J/(kg K)]

}  // namespace

double pressure_at_altitude(double altitude) {
  if (!(altitude >= -1000.0 && altitude <= 11000.0))
    throw DomainError("pressure_at_altitude: the altitude must lie between -1000 and 11000 m.");
  return standard_pressure * std::pow(1.0 - lapse * altitude / sea_level_temperature, gravity / (standard_r * lapse));
}

}  // namespace airtally::gas
