#pragma once
#include <memory>
#include <vector>

#include "gas/site.hpp"

namespace airtally::laws {

/// One point of a curve over vacuum, read at 101,325 Pa and 20 C.
struct CurvePoint {
  double vacuum;  ///< [Pa] below ambient, >= 0
  double value;   ///< mass flow [kg/s] of free air, or motor current [A]
};

/// What a pump takes at its inlet, and the slope with the inlet pressure.
struct PumpFlow {
  double m;      ///< taken out of the line [kg/s] >= 0
  double dm_dp;  ///< [kg/(s Pa)] >= 0
};

/// A pump's (or an ejector's suction) curve at a site: monotone cubic through the points; constant below zero vacuum, zero
/// beyond the last point.
class PumpCurve {
 public:
  PumpCurve(const std::vector<CurvePoint>& flow, const gas::Site& site, double speed = 1.0);

  /// Flow at absolute inlet pressure `p` [Pa]. At the ultimate pressure itself the slope is the inner one.
  PumpFlow at(double p) const;
  /// Lowest pressure the pump can pull, at no flow [Pa, absolute].
  double ultimate() const;
  /// Flow with nothing connected [kg/s].
  double free_flow() const;
};

}  // namespace airtally::laws
