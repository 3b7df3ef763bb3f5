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
  std::string name;                   ///< of the element that is there now, of a catalogue's entry, or "twisted tube"
  bool twists = false;                ///< a plain tube
  bool own = false;                   ///< what the line has now
  double vacuum_open = 0.0,           ///< at the weakest tip, all open [Pa]
      vacuum_part = 0.0;              ///< at the weakest tip, part on [Pa]
  double leak = 0.0;                  ///< of the joint or tube, with the part on [kg/s]
  double margin = 0.0;                ///< of the hold, at the widest gap [Pa]; below 0: the part is lost
  double settle = 0.0;                ///< from ambient until the tip stays within 5 % of its vacuum [s]
  std::optional<double> reach;        ///< from ambient until every tip has its need, at the widest gap [s]; none: never
  std::optional<double> duty;         ///< part of its time that the pump has to run to keep that [-]; none: it can't
  std::optional<double> friction;     ///< of the seal, or the twisted tube's torque at its limit [N m]; none: not known
  std::optional<double> torque;       ///< that and what speeding up the spindle takes [N m]; none: not known
  std::optional<double> torque_left;  ///< what the motor then has to spare [N m]; none: not known
  Turns turns;                        ///< what the spindle does in the job
  /// Time of a placement beyond its travel: reach and turning [s]; none: it is never reached.
  std::optional<double> late;
  std::optional<double> placement;    ///< all of it [s]; none: as above
  std::vector<std::string> troubles;  ///< why it can't be, a clause each; none: it does the job
  /// Whether it does the job.
  bool does() const { return troubles.empty(); }
};

/// The tube, twisted to its limit.
struct TwistedTube {
  laws::ElasticTube tube;          ///< its dimensions and modulus
  double angle = 0.0;              ///< the limit, either way [rad]
  double torque = 0.0;             ///< that holds it there [N m]
  double strain = 0.0;             ///< at its surface [-]
  double allowed = 0.0;            ///< strain allowed [-]
  double shortest = 0.0;           ///< length that keeps to what is allowed [m]
  double flattens = 0.0;           ///< vacuum at which it flattens when straight [Pa]
  std::optional<double> tightest;  ///< bend radius at which it kinks under its own vacuum [m]; none: flat anyhow
};

/// What the joint would cost with another clearance or leak.
struct JointPoint {
  double value = 0.0;  ///< clearance [m], or leak as it is rated [kg/s]
  /// Time of a placement beyond its travel [s]; none: the tip never gets what the machine waits for.
  std::optional<double> late;
};

/// Where joint and tube cost the same.
struct BreakEven {
  /// Whether there is such a place.
  enum class Outcome {
    found,                    ///< there is
    tube_always,              ///< the tube costs less even at a thousandth of the joint's own value
    joint_always,             ///< the joint costs less up to the widest that is looked at
    none                      ///< not asked: no joint that leaks by a clearance or a rated leak, or no tube that does
  } outcome = Outcome::none;  ///< which of them
  bool clearance = true;      ///< the values are clearances; else rated leaks
  double value = 0.0;         ///< if found: below it the joint costs less [m] or [kg/s]
  double now = 0.0;           ///< the joint's own [m] or [kg/s]
  std::vector<JointPoint> curve;  ///< rising values; empty when not asked for
};

/// What [twist] asks, answered.
struct Joint {
  std::vector<JointWay> ways;        ///< what the line has first, the twisted tube last unless it is that
  std::size_t tube = 0;              ///< index of the twisted tube in `ways`
  std::optional<std::size_t> joint;  ///< index in `ways` of the joint that it is held against; none: there is none
  std::optional<std::size_t> best;   ///< index of the way that does and costs a placement least; none: none does
  TwistedTube twisted;               ///< the tube at its limit
  BreakEven even;                    ///< over the joint's leak
  std::optional<double> even_pace;   ///< placements a second at which both cost the same [1/s]; none: at none
  double carry = 0.0,                ///< of a placement: the way there [s]
      back = 0.0,                    ///< the way back [s]
      other = 0.0;                   ///< all else [s]
  std::vector<double> needs;         ///< vacuum at which the machine lifts, per nozzle in line order [Pa]
  bool waits_stated = false;         ///< in the file; else it is what the moves need
  std::size_t angles = 0;            ///< in the job's own list; 0: uniform
  std::vector<std::string> notes;    ///< what was taken for granted, a sentence each
  /// Whether two ways, indices into `ways`, cost a placement about the same: to one part in a hundred, as neither the
  /// numbers of a file nor a bench can tell apart what is closer. False where one of them has no placement.
  bool alike(std::size_t a, std::size_t b) const;
  bool tube_wins() const;  ///< it does, and costs a placement less than the joint or the joint does not
};

/// What else is tried.
struct JointOptions {
  std::vector<line::Seal> seals;  ///< rotary joints of the catalogue to try
  bool curve = true;              ///< also the cost over the clearance
};

/// What [twist] asks. Every way takes the place of all elements that [twist] names. Pulled down from ambient with the
/// part on, pump at full speed and valves open, long tubes in two pieces. Throws BadInput (no nozzle, no [part],
/// no joint, no tube, a tube without wall or modulus), NoConvergence.
Joint joint(const line::Line& line, const line::Twist& twist, const JointOptions& options = {});

}  // namespace airtally::study
