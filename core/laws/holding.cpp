#include "laws/holding.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "laws/require.hpp"

namespace airtally::laws {

double suction_force(double vacuum, double diameter) { return vacuum * std::numbers::pi * diameter * diameter / 4.0; }

double holding_moment(double force, double diameter) { return force * diameter / 2.0; }

double lift_force(double mass, double acceleration, double safety) {
  return safety * mass * (free_fall + acceleration);
}

double slip_force(double pull, double along, double friction, double safety) {
  return safety * (pull + along / friction);
}

double friction_radius(double inner, double outer) {
  // (ro^3 - ri^3)/(ro^2 - ri^2) with the common factor taken out, so that a line contact needs no limit.
  return 2.0 / 3.0 * (outer * outer + outer * inner + inner * inner) / (outer + inner);
}

NeededForce needed_force(const Body& body, const Grip& grip, const Motion& motion, const Safety& safety) {
  require(
      body.mass > 0.0 && grip.outer > 0.0 && grip.inner >= 0.0 && grip.inner <= grip.outer && grip.friction > 0.0,
      "A holding force needs a mass, a friction and an outer radius above 0, and an inner radius within the outer.");
  const double spin_up = std::abs(motion.spin_up);
  const double around = body.offset * std::hypot(motion.spin * motion.spin, spin_up);
  const double sideways = body.mass * (motion.travel + around);
  const double turning =
      body.mass * ((body.gyration_area + body.offset * body.offset) * spin_up + body.offset * motion.travel);
  const double weight = body.mass * free_fall;
  const double lever = 1.0 + body.offset / grip.outer;

  NeededForce needed;
  needed.lift = lift_force(body.mass, motion.lift, safety.lift);
  needed.tilt = needed.lift * lever;
  if (sideways > 0.0 || turning > 0.0) {
    needed.slide =
        slip_force(weight, sideways + turning / friction_radius(grip.inner, grip.outer), grip.friction, safety.side);
    needed.tilt = std::max(needed.tilt, safety.side * (weight * lever + sideways * body.depth / grip.outer));
  }
  return needed;
}

}  // namespace airtally::laws
