#pragma once
#include "hunt/samples/stand_in_private.hpp"

namespace airtally::hunt {

/// z that a prior can just take [-]: Prior::z_of() ends at 6.
inline constexpr double farthest = 5.9;

/// Where a sample stands, with all that a step from there needs, so that a step of one unknown costs some tens of
/// nanoseconds and not a solve.
struct Stand {
  Eigen::VectorXd z, values, w, dw;
  Eigen::VectorXd moved;    ///< per anchor: by how much the readings were moved from there
  Eigen::Index anchor = 0;  ///< the nearest
  Eigen::VectorXd eta;      ///< the nearest anchor's readings
  Eigen::ArrayXd shown;     ///< room to work in
  double misfit = 0.0;      ///< sum of squares
  double squares = 0.0;     ///< of z
  double log_posterior() const { return -0.5 * (misfit + squares); }
  /// |dw/dz| of all unknowns together, over that of another stand.
  double stretch_over(const Stand& other) const {
    return (dw.array() == 0.0).select(1.0, dw.array() / other.dw.array()).abs().prod();
  }
};

/// Puts a stand at z. False where the stand-in says nothing.
bool put(const StandIn& stand_in, const Eigen::VectorXd& z, Stand& stand);
/// The same with the coordinates given instead; false when they are beyond what the priors can take. What has no
/// coordinate of its own, since its prior is a point, keeps its z `from` there.
bool put_coordinates(const StandIn& stand_in, const Stand& from, const Eigen::VectorXd& w, Stand& stand);

/// The same as put() for a stand of which only some unknowns, none of them the pump's factor, have other z.
bool put_some(const StandIn& stand_in, const Stand& from, std::span<const Eigen::Index> unknowns,
              std::span<const double> z, Stand& stand);

/// A step of one unknown from a stand, before it is taken.
struct Step {
  Eigen::Index unknown = 0;
  double z = 0.0, value = 0.0, w = 0.0, dw = 0.0;
  Eigen::VectorXd moved, eta;
  Eigen::ArrayXd shown;  ///< room to work in
  Eigen::Index anchor = 0;
  double misfit = 0.0, squares = 0.0;
  double log_posterior() const { return -0.5 * (misfit + squares); }
};
/// Not for the pump's factor, with which all leaks' coordinates move.
void try_step(const StandIn& stand_in, Stand& stand, Eigen::Index unknown, double z, Step& step);
void take(Stand& stand, Step& step);

}  // namespace airtally::hunt
