#pragma once
#include <optional>
#include <string>
#include <vector>

#include "laws/torsion.hpp"
#include "line/line.hpp"
#include "line/twist.hpp"
#include "study/turns.hpp"

/// Rotary joint or twisted tube: what each costs the tip, and what each costs a placement.
namespace airtally::study {

/// One way of letting the spindle turn.
struct JointWay {
  std::string name;     ///< of the element that is there now, of a catalogue's entry, or "twisted tube"
  bool twists = false;  ///< a plain tube
  bool own = false;     ///< what the line has now
  double vacuum_open = 0.0, vacuum_part = 0.0;  ///< at the weakest tip [Pa]
  double leak = 0.0;                            ///< with the part on [kg/s]
  double margin = 0.0;                          ///< of the hold, at the widest gap [Pa]
  double settle = 0.0;                          ///< from ambient until the tip stays within 5 % of its vacuum [s]
  std::optional<double> reach;                  ///< from ambient until the tip has `wait_for` [s]; none: never
  std::optional<double> duty;         ///< part of its time that the pump has to run to keep `wait_for`; none: it can't
  std::optional<double> friction;     ///< of the seal, or the twisted tube's torque at its limit [N m]
  std::optional<double> torque;       ///< that and what speeding up the spindle takes [N m]; none: not known
  std::optional<double> torque_left;  ///< what the motor then has to spare [N m]
  Turns turns;
  std::optional<double> late;         ///< time of a placement beyond its travel: reach and turning [s]
  std::optional<double> placement;    ///< all of it [s]
  std::vector<std::string> troubles;  ///< why it can't be; none: it does the job
  bool does() const { return troubles.empty(); }
};

/// The tube, twisted to its limit.
struct TwistedTube {
  laws::ElasticTube tube;
  double angle = 0.0;              ///< [rad]
  double torque = 0.0;             ///< [N m]
  double strain = 0.0;             ///< at its surface [-]
  double allowed = 0.0;            ///< [-]
  double shortest = 0.0;           ///< length that keeps to what is allowed [m]
  double flattens = 0.0;           ///< vacuum at which it flattens when straight [Pa]
  std::optional<double> tightest;  ///< bend radius at which it kinks under its own vacuum [m]; none: flat anyhow
};

/// What the joint would cost with another clearance or leak.
struct JointPoint {
  double value = 0.0;          ///< clearance [m], or leak as it is rated [kg/s]
  std::optional<double> late;  ///< [s]; none: the tip never gets what the machine waits for
};

/// Where joint and tube cost the same.
struct BreakEven {
  enum class Outcome { found, tube_always, joint_always, none } outcome = Outcome::none;
  bool clearance = true;  ///< the values are clearances; else rated leaks
  double value = 0.0;     ///< if found: below it the joint costs less [m] or [kg/s]
  double now = 0.0;       ///< the joint's own
  std::vector<JointPoint> curve;
};

struct Joint {
  std::vector<JointWay> ways;        ///< what the line has first, the twisted tube last unless it is that
  std::size_t tube = 0;              ///< index of the twisted tube
  std::optional<std::size_t> joint;  ///< index of the joint that it is held against; none: there is none
  std::optional<std::size_t> best;   ///< of those that do, the one that costs a placement least; none: none does
  TwistedTube twisted;
  BreakEven even;
  std::optional<double> even_pace;  ///< placements a second at which both cost the same [1/s]; none: at none
  double carry = 0.0, back = 0.0, other = 0.0;  ///< of a placement: way there, way back, all else [s]
  double wait_for = 0.0;                        ///< vacuum at which the machine lifts [Pa]
  bool waits_stated = false;                    ///< in the file; else it is what the moves need
  std::size_t angles = 0;                       ///< in the job's own list; 0: uniform
  std::vector<std::string> notes;
  bool tube_wins() const;  ///< it does, and costs a placement less than the joint or the joint does not
};

struct JointOptions {
  std::vector<line::Seal> seals;  ///< rotary joints of the catalogue to try
  bool curve = true;              ///< also the cost over the clearance
};

/// What [twist] asks. Every way takes the place of all elements that [twist] names. Pulled down from ambient with the
/// part on, pump at full speed and valves open, long tubes in two pieces. Throws BadInput (no [part], no joint, no
/// tube), NoConvergence.
Joint joint(const line::Line& line, const line::Twist& twist, const JointOptions& options = {});

}  // namespace airtally::study
