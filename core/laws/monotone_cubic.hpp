#pragma once
#include <memory>
#include <vector>

namespace airtally::laws {

/// A curve through points that never overshoots them: where the points rise or fall, so does the curve.
///
/// Piecewise cubic with the harmonic-mean slopes of Fritsch and Butland at inner points (zero at a turn) and the
/// three-point slopes of the parabola through the ends, held to what keeps the curve monotone; two points give a
/// straight line. Value and slope are continuous between the first and the last point.
/// Source: Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980) 238; Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5
/// (1984) 300; evaluated by Boost.Math's cubic Hermite interpolator, whose own pchip gives the same inner slopes but
/// needs four points. Tested by tests/laws/monotone_cubic_test.cpp.
class MonotoneCubic {
 public:
  /// How steep the curve leaves its last point.
  enum class LastSlope {
    parabola,   ///< as at the first one
    never_flat  ///< at least as steep as the last chord, for a curve whose zero must stay well determined
  };

  /// `x` rising strictly, `y` of the same length, at least two. Throws: DomainError otherwise, or if a value is not
  /// finite.
  MonotoneCubic(std::vector<double> x, std::vector<double> y, LastSlope last = LastSlope::parabola);

  double first() const;  ///< the first x, in the unit of the points
  double last() const;   ///< the last x, in the same unit
  /// Value at `x`, first() <= x <= last(), in the unit of y. Throws: std::domain_error outside.
  double value(double x) const;
  /// Slope dy/dx there; at the two ends the inner one. Throws: std::domain_error outside.
  double slope(double x) const;

 private:
  struct Curve;
  std::shared_ptr<const Curve> curve_;
};

}  // namespace airtally::laws
