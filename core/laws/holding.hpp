#pragma once

/// The force that holds a part on a nozzle, and the force that its moves need.
///
/// The nozzle points down and the part hangs on its rim. What acts on the part: the vacuum over an area, F = dp A,
/// upwards; its weight; and the inertia of its moves. Accelerations upwards and sideways are taken to follow each
/// other, as a pick does; those of travel and spin to act at the same time and in the worst direction.
namespace airtally::laws {

inline constexpr double free_fall = 9.80665;  ///< standard acceleration of free fall [m/s2]

/// Force of a vacuum [Pa] over a circle of that diameter [m]: F = dp pi d^2/4 [N]. Neither this nor the four functions
/// below check what they are given. Source: the definition of pressure.
double suction_force(double vacuum, double diameter);

/// Moment that a force at the centre of a rim of that diameter [m] holds before the part peels off about the rim's
/// edge: M = F d/2 [N m]. Rigid-body estimate: a hard part on a hard rim; a soft rim lets go earlier.
double holding_moment(double force, double diameter);

/// Force to lift `mass` m [kg] at `acceleration` a [m/s2], `safety` S [-]: F = S m (g + a) [N]. Common practice of
/// handling, no source.
double lift_force(double mass, double acceleration, double safety);

/// Force that keeps the part from slipping: F = S (N + Q/mu) [N], with `pull` N [N] pulling the part off the rim,
/// `along` Q [N] along it, `friction` mu [-] > 0 and `safety` S [-]. Sideways moves: N = m g, Q = m a; on a vertical
/// face: N = 0, Q = m (g + a). Dry friction. Common practice of handling, no source.
double slip_force(double pull, double along, double friction, double safety);

/// Radius at which friction of a ring acts against turning [m]: 2/3 (ro^3 - ri^3)/(ro^2 - ri^2) for an even contact
/// pressure between radii 0 <= inner <= outer, outer > 0. Source: textbook of machine elements (disc clutch, even
/// pressure).
double friction_radius(double inner, double outer);

/// The ring on which the part sits, and the area that the vacuum acts on.
struct Grip {
  double area = 0.0;      ///< that the vacuum acts on [m2] > 0; needed_force() does not use it
  double inner = 0.0;     ///< inner radius of the contact [m] >= 0
  double outer = 0.0;     ///< outer radius of the contact [m] > 0
  double friction = 0.3;  ///< between part and rim [-] > 0; 0.3: common practice, no source
};

/// The part as a rigid body.
struct Body {
  double mass = 0.0;           ///< [kg] > 0
  double offset = 0.0;         ///< of its centre of mass from the nozzle's axis [m] >= 0
  double depth = 0.0;          ///< of its centre of mass below the rim [m] >= 0
  double gyration_area = 0.0;  ///< moment of inertia about its own upright axis over its mass [m2] >= 0
};

/// How it is moved.
struct Motion {
  double lift = 0.0;     ///< acceleration upwards [m/s2] >= 0
  double travel = 0.0;   ///< acceleration sideways [m/s2] >= 0
  double spin = 0.0;     ///< turning rate, of either sign [rad/s]
  double spin_up = 0.0;  ///< angular acceleration, of either sign [rad/s2]
};

/// Factors by which the vacuum's force must exceed the bare need. 2 and 4: common practice of handling, no source.
struct Safety {
  double lift = 2.0;  ///< on what pulls straight down [-] >= 1; not checked
  double side = 4.0;  ///< on what also moves sideways or turns [-] >= 1; not checked
};

/// Vacuum force needed against each way of losing the part [N].
struct NeededForce {
  double lift = 0.0;   ///< or else it is dropped [N]
  double slide = 0.0;  ///< or else it slips or turns on the rim [N]; 0 when nothing moves sideways
  double tilt = 0.0;   ///< or else it peels off about the edge of the rim [N]
};

/// What the moves need. With r = offset, R = outer, c = depth, w = spin, e = spin_up, k2 = gyration_area:
///
///   a       = travel + r sqrt(w^4 + e^2)              sideways: centripetal and tangential at right angles
///   t       = m (k2 + r^2) |e| + m r travel           torque about the nozzle's axis
///   lift    = S_l m (g + lift)
///   slide   = S_s (m g + (m a + t/friction_radius)/mu)
///   tilt    = the larger of S_l m (g + lift)(1 + r/R) and S_s (m g (1 + r/R) + m a c/R)
///
/// The part peels about the edge of the rim opposite to its heavy side, at a lever of R + r for the weight and R for
/// the force. Slide and the second tilt count only where something moves sideways or turns. Left out: a part that
/// bends, air drag, shock. Throws DomainError for a mass, friction or outer radius that is not above zero, or an inner
/// radius that is negative or beyond the outer.
NeededForce needed_force(const Body& body, const Grip& grip, const Motion& motion, const Safety& safety);

}  // namespace airtally::laws
