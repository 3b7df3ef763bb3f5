#pragma once
#include <algorithm>

/// How a leak that has grown passes air: a scored seat or a worn lip as the fine gap that it was, a torn hose or a lost
/// seal as a hole.
namespace airtally::hunt {

/// What a leak of a `factor` >= 0 times its usual size is made of, of which the grown part is a hole to the share
/// `hole_share` (0 to 1) [-]: factors on its own law and on a hole's, both with the flow of factor 1 at leak_vacuum(),
/// and their slopes. The flow at leak_vacuum() is `factor` times that, whatever the share. What has not grown is none;
/// a leak of four times its size is a hole to a twelfth of that share, one of thirty times to nine tenths: as common
/// practice has it, a fitting that weeps does so through a gap, and what lets in a litre a minute is open.
struct Torn {
  double own = 0.0;             ///< factor on its own law
  double hole = 0.0;            ///< factor on a hole's
  double own_by_factor = 1.0;   ///< d own/d factor
  double hole_by_factor = 0.0;  ///< d hole/d factor
  double by_share = 0.0;        ///< d hole/d hole_share = -d own/d hole_share
};

/// Tested by tests/hunt/torn_test.cpp.
inline Torn torn(double factor, double hole_share) {
  constexpr double half = 10.0;  ///< by how much it has grown where half of it is
  const double grown = std::max(factor - 1.0, 0.0);
  const double squares = grown * grown + half * half;
  const double part = grown * grown / squares;
  const double slope = part + 2.0 * factor * grown * half * half / (squares * squares);  // of factor * part
  const double hole = hole_share * factor * part;
  return {factor - hole, hole, 1.0 - hole_share * slope, hole_share * slope, factor * part};
}

}  // namespace airtally::hunt
