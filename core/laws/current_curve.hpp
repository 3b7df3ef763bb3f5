#pragma once
#include <vector>

#include "laws/pump_curve.hpp"

namespace airtally::laws {

/// What a motor draws, and the slope with the inlet pressure.
struct Current {
  double amperes;  ///< [A]
  double di_dp;    ///< [A/Pa], of either sign
};

/// A pump motor's current over vacuum at a site, so that a bench supply's ammeter can serve as a gauge. Monotone cubic
/// between points, so that a hump has its top at a point; held constant outside them. On another site the vacuum axis
/// scales with p_amb/101325, as the pump's does; the current itself is left as it was read, although it falls a little
/// with ambient pressure. Source: common practice. Tested by tests/laws/current_curve_test.cpp.
class CurrentCurve {
 public:
  /// `current`: at least two points, vacuum rising strictly from >= 0 to less than 101,325 Pa, current not negative.
  /// Throws: DomainError otherwise, or if the site's pressure is not positive.
  CurrentCurve(const std::vector<CurvePoint>& current, const gas::Site& site);

  /// Current at absolute inlet pressure `p` [Pa]; at the end points themselves the slope is the inner one.
  Current at(double p) const;

 private:
  MonotoneCubic curve_;
  double ambient_;        // [Pa]
  double vacuum_factor_;  // 101325/p_amb
};

}  // namespace airtally::laws
