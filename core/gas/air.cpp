#include "gas/air.hpp"

#include <cmath>
#include <numbers>

#include "errors.hpp"

namespace airtally::gas {

namespace {

constexpr double reference_viscosity = 1.716e-5;  // [Pa s] at the ice point
constexpr double ice_point = 273.15;              // [K]
constexpr double sutherland = 110.4;              // Sutherland's constant of air [K]
constexpr double coldest = 50.0;                  // [K]
constexpr double hottest = 2000.0;                // [K]

}  // namespace

double viscosity(double temperature) {
  if (!(temperature >= coldest && temperature <= hottest))
    throw DomainError("viscosity: the temperature must lie between 50 and 2000 K.");
  const double ratio = temperature / ice_point;
  return reference_viscosity * ratio * std::sqrt(ratio) * (ice_point + sutherland) / (temperature + sutherland);
}

double mean_free_path(double pressure, double temperature) {
  if (!(pressure > 0.0)) throw DomainError("mean_free_path: the pressure must be positive.");
  return air_at(temperature).slip / pressure;
}

double sound_speed(double temperature) {
  if (!(temperature > 0.0)) throw DomainError("sound_speed: the temperature must be positive.");
  return std::sqrt(gamma * R * temperature);
}

Air air_at(double temperature) {
  const double mu = viscosity(temperature);
  const double rt = R * temperature;
  return {temperature, rt, mu, mu * std::sqrt(0.5 * std::numbers::pi * rt)};
}

}  // namespace airtally::gas
