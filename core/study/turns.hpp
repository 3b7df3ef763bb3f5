#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "laws/turning.hpp"

/// What a spindle does between pick and place, and what of it the travel does not hide.
namespace airtally::study {

/// A job for a spindle.
struct TurningJob {
  std::vector<double> angles;   ///< by which parts are turned between pick and place, in order [rad]
  std::optional<double> limit;  ///< the spindle turns this far either way [rad]; none: for ever
  std::optional<double> pick;   ///< angle at which parts are picked [rad], or any whole turns from it; none: any
  laws::TurningMotor motor;     ///< what the spindle's motor can do
  double carry = 0.0;           ///< time that the way to the place takes anyway [s] >= 0
  double back = 0.0;            ///< and the way back [s] >= 0
};

/// One placement: on the way back, empty, the spindle turns by `back`, then with the part by `carried`.
struct Turn {
  double back = 0.0;       ///< turn empty, of either sign [rad]
  double carried = 0.0;    ///< turn with the part, of either sign [rad]
  double end = 0.0;        ///< where the spindle then stands [rad]
  double late_back = 0.0;  ///< time to turn that the way back does not hide [s] >= 0
  double late = 0.0;       ///< time to turn that the way to the place does not hide [s] >= 0
};

/// The next placement from `at` [rad], the part to be turned by `angle` or any whole turns more or less: of all ways
/// within the limit the one that takes least time beyond the travel; of such that take the same the one that turns
/// least; of those the one that ends nearest to the middle. None when no way is within the limit.
///
/// For a given way with the part, what has to be turned back empty before is settled by the limit: just enough. So few
/// ways are left, and all are looked at. A control that knows its whole list could do better by planning ahead; this
/// one knows the next placement only.
std::optional<Turn> next_turn(const TurningJob& job, double at, double angle);

/// A whole job. Means are per placement.
struct Turns {
  std::size_t placements = 0;   ///< made
  std::size_t unreachable = 0;  ///< left out: no way is within the limit; in no mean
  std::size_t unwinds = 0;      ///< placements before which the spindle had to turn back empty
  double carried = 0.0;         ///< mean |turn| with the part [rad]
  double back = 0.0;            ///< mean |turn| empty [rad]
  double carried_time = 0.0;    ///< mean time of the former [s]
  double back_time = 0.0;       ///< and of the latter [s]
  double late = 0.0;            ///< mean of what the travel does not hide, with the part [s]
  double late_back = 0.0;       ///< and empty [s]
  double farthest = 0.0;        ///< of all angles at which the spindle stood [rad] >= 0, either way
};

/// Goes through the angles, again and again until at least `least` placements were made or found out of reach, from the
/// angle of the pick on, the middle where there is none. All 0 for a job without angles.
Turns turns(const TurningJob& job, std::size_t least = 1000);

/// `count` angles [rad] anywhere in a turn, -pi to pi, for a job without a list of its own: seeded, the same on every
/// machine.
std::vector<double> uniform_angles(std::size_t count);

}  // namespace airtally::study
