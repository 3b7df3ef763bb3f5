#pragma once
#include <optional>
#include <string>
#include <vector>

#include "line/element.hpp"

/// How a spindle turns, and the tube that could twist with it in a rotary joint's place. Plain data in SI.
namespace airtally::line {

/// A piece of elastic tube.
struct TwistTube {
  double bore = 0.0;     ///< inner diameter [m] > 0
  double length = 0.0;   ///< that twists [m] > 0
  double wall = 0.0;     ///< [m] > 0
  double modulus = 0.0;  ///< Young's modulus [Pa] > 0
};

/// What turns the spindle.
struct SpindleMotor {
  double speed = 0.0;             ///< fastest [rad/s] > 0
  double acceleration = 0.0;      ///< to speed up and to stop [rad/s2] > 0
  std::optional<double> torque;   ///< that it gives while it turns [N m] >= 0; none: not known
  std::optional<double> inertia;  ///< of all that turns, the rotor included [kg m2] >= 0; none: not known
};

/// [twist]: rotary joint or twisted tube?
struct Twist {
  std::vector<std::string> at;       ///< the elements that are the joint, or the tube in its place; empty: every rotary
  std::optional<TwistTube> tube;     ///< that would twist; none: the element `at` is it
  double limit = 0.0;                ///< the spindle turns this far either way [rad] > 0
  double strain = 0.2;               ///< shear strain allowed at the tube's surface [-] > 0; common practice, no source
  std::optional<double> bend;        ///< radius of the tightest bend of the tube [m] > 0; none: not known
  std::optional<double> friction;    ///< of the joint that is there now [N m] >= 0; none: not known
  SpindleMotor motor;                ///< that turns it
  std::vector<double> angles;        ///< by which parts are turned between pick and place, in the job's order [rad];
                                     ///< empty: uniform over a turn
  std::optional<double> pick;        ///< spindle angle at which parts are picked [rad]; none: any
  std::optional<double> carry;       ///< time that the way from pick to place takes anyway [s] >= 0; none: from [cycle]
  std::optional<double> back;        ///< the same for the way back [s] >= 0
  std::optional<double> wait_for;    ///< vacuum at which the machine lifts [Pa] >= 0; none: what the moves need
  std::vector<std::string> assumed;  ///< what was not given and what was taken instead, a phrase each
  Position where;                    ///< of the table
  Position at_where;                 ///< of the key `at`
};

/// A rotary joint of a catalogue, with what its seal rubs.
struct Seal {
  Element element;                 ///< the joint, called as its entry is
  std::optional<double> friction;  ///< torque of its seal [N m] >= 0; none: not known
};

}  // namespace airtally::line
