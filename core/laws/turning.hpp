#pragma once

namespace airtally::laws {

/// What a spindle's motor can do.
struct TurningMotor {
  double speed = 0.0;         ///< fastest [rad/s] > 0
  double acceleration = 0.0;  ///< to speed up and to stop [rad/s2] > 0
};

/// How long a turn takes.
struct TurningTime {
  double time = 0.0;   ///< from rest to rest [s] >= 0
  double slope = 0.0;  ///< d time/d |angle| [s/rad]; infinite at 0
};

/// Time to turn by `angle` [rad] of either sign, from rest to rest, as fast as the motor allows:
///
///   |angle| <= v^2/a:  t = 2 sqrt(|angle|/a)        (it never reaches its speed)
///   else               t = |angle|/v + v/a          (a trapezium of speed over time)
///
/// Not modelled: jerk limits, settling, play. Throws DomainError for a motor without speed or acceleration. Source:
/// kinematics of constant acceleration. Tested by tests/laws/turning_test.cpp.
TurningTime turning_time(double angle, const TurningMotor& motor);

/// The angle as one of (-pi, pi]: the shortest way to turn to it [rad].
double shortest_way(double angle);

}  // namespace airtally::laws
