#pragma once
#include <vector>

#include "gas/site.hpp"
#include "laws/monotone_cubic.hpp"

namespace airtally::laws {

inline constexpr double reading_temperature = 293.15;  ///< at which curves are read [K]

/// One point of a curve over vacuum, read at 101,325 Pa and 20 C.
struct CurvePoint {
  double vacuum;  ///< [Pa] below ambient, >= 0
  double value;   ///< mass flow [kg/s] of free air, or motor current [A]
};

/// What a pump takes at its inlet, and the slope with the inlet pressure.
struct PumpFlow {
  double m;      ///< taken out of the line [kg/s] >= 0
  double dm_dp;  ///< its slope with the inlet pressure [kg/(s Pa)] >= 0
};

/// A pump's (or an ejector's suction) curve at a site: monotone cubic through the points; the first point's flow from
/// there to zero vacuum and beyond, no flow beyond the last point.
///
///   m(p) = speed (p_amb/101325) (293.15/T) m_ref(v),   v = (p_amb - p) 101325/p_amb
///
/// since a pump displaces volume: its flow depends on p/p_amb, its mass flow on the density of what it draws. The value
/// is continuous; the slope jumps at the ultimate pressure (back flow through a good pump is nil) and at the first
/// point. The curve never meets zero flatter than its last chord, as else the ultimate vacuum would be poorly
/// determined. Not modelled: warming, wear, a leaking pump valve. Source: scaling of a displacement pump; common
/// practice. Tested by tests/laws/pump_curve_test.cpp.
class PumpCurve {
 public:
  /// `flow`: at least two points, vacuum rising strictly from >= 0 to less than 101,325 Pa, flow never rising and
  /// exactly 0 at the last point alone. `speed` [-] >= 0 multiplies the flow (supply voltage).
  /// Throws: DomainError otherwise, or if the site's pressure or temperature is not positive.
  PumpCurve(const std::vector<CurvePoint>& flow, const gas::Site& site, double speed = 1.0);

  /// Flow at absolute inlet pressure `p` + `low` [Pa]; `low` is what `p` rounds away. At the ultimate pressure itself
  /// the slope is the inner one, and so it is at the first point. Near the ultimate pressure the flow keeps its digits
  /// however small it is, and is exactly 0 there: a line that is nearly tight works where the curve meets zero.
  PumpFlow at(double p, double low = 0.0) const;
  /// Lowest pressure the pump can pull, at no flow [Pa, absolute] > 0.
  double ultimate() const { return ultimate_; }
  /// Flow at zero vacuum, nothing connected [kg/s] >= 0.
  double free_flow() const { return free_flow_; }

 private:
  MonotoneCubic curve_;
  double ambient_;        // [Pa]
  double vacuum_factor_;  // 101325/p_amb
  double flow_factor_;
  double ultimate_;
  double free_flow_;
  // The last piece of the curve: its width [Pa of vacuum], and value and slope at its two ends.
  double width_;
  double first_value_;
  double first_slope_;
  double last_slope_;
};

}  // namespace airtally::laws
