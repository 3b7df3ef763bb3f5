#pragma once

/// What every flow law takes and gives.
namespace airtally::laws {

/// The two ends of a flow path: absolute pressures [Pa] > 0, and their difference. The difference is an input of its
/// own because in a wide short duct p1 - p2 is lost in the rounding of the two pressures; whoever knows it better says
/// so.
struct Ends {
  double p1;    ///< at end 1 [Pa, absolute] > 0
  double p2;    ///< at end 2 [Pa, absolute] > 0
  double drop;  ///< p1 - p2 [Pa]

  /// Pressures [Pa] whose difference is good enough.
  Ends(double first, double second) : p1(first), p2(second), drop(first - second) {}
  /// Pressures [Pa] and the difference `first` - `second` [Pa] as the caller knows it. Nothing is checked here.
  Ends(double first, double second, double difference) : p1(first), p2(second), drop(difference) {}
};

/// Mass flow and its slopes with the two pressures, as every flow law gives them.
struct Flow {
  double m = 0.0;       ///< from end 1 to end 2; below 0: the other way [kg/s]
  double dm_dp1 = 0.0;  ///< [kg/(s Pa)] >= 0
  double dm_dp2 = 0.0;  ///< [kg/(s Pa)] <= 0
};

/// How close, as a share of the flow, the last trial of a law that iterates must come. The flow is then off by about
/// the square of that, the slopes by as much as their change over it: this gives the flow to 1e-13 and the slopes to
/// 1e-7. (No less would: between laminar and turbulent flow, and near choking, the slopes change so fast that after a
/// step of 2e-7 they are off by more than 1e-6.) Who solves for pressures on the way to their own root can do with
/// less.
inline constexpr double exactly = 1e-8;

/// The flow seen from the other end.
inline Flow reversed(const Flow& f) { return {-f.m, -f.dm_dp2, -f.dm_dp1}; }

}  // namespace airtally::laws
