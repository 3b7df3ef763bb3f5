#include "laws/turning.hpp"

#include <cmath>
#include <limits>
#include <numbers>

#include "laws/require.hpp"

namespace airtally::laws {

TurningTime turning_time(double angle, const TurningMotor& motor) {
  require(motor.speed > 0.0 && motor.acceleration > 0.0, "A motor needs a positive speed and acceleration.");
  const double turn = std::abs(angle);
  if (turn == 0.0) return {0.0, std::numeric_limits<double>::infinity()};
  const double v = motor.speed, a = motor.acceleration;
  if (turn <= v * v / a) return {2.0 * std::sqrt(turn / a), 1.0 / std::sqrt(a * turn)};
  return {turn / v + v / a, 1.0 / v};
}

double shortest_way(double angle) {
  const double way = std::remainder(angle, 2.0 * std::numbers::pi);
  return way <= -std::numbers::pi ? std::numbers::pi : way;
}

}  // namespace airtally::laws
