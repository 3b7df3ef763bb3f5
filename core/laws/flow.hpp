#pragma once

/// What every flow law takes and gives.
namespace airtally::laws {

/// The two ends of a flow path: absolute pressures [Pa] > 0, and their difference. The difference is an input of its
/// own because in a wide short duct p1 - p2 is lost in the rounding of the two pressures; whoever knows it better says
/// so.
struct Ends {
  double p1;
  double p2;
  double drop;  ///< p1 - p2 [Pa]

  Ends(double first, double second) : p1(first), p2(second), drop(first - second) {}
  Ends(double first, double second, double difference) : p1(first), p2(second), drop(difference) {}
};

/// Mass flow from end 1 to end 2 [kg/s] and its slopes with the two pressures [kg/(s Pa)].
/// Every law keeps dm_dp1 >= 0 and dm_dp2 <= 0.
struct Flow {
  double m = 0.0;
  double dm_dp1 = 0.0;
  double dm_dp2 = 0.0;
};

/// The flow seen from the other end.
inline Flow reversed(const Flow& f) { return {-f.m, -f.dm_dp2, -f.dm_dp1}; }

}  // namespace airtally::laws
