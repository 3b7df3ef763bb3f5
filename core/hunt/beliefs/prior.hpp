#pragma once
#include <utility>

namespace airtally::hunt {

/// The z beyond which an element counts as damaged: one in twenty-five.
inline constexpr double damage_onset = 1.75;

/// A quantity as a function of a standard normal variable z, so that every unknown of a hunt is alike to the fit.
///
/// What is whole follows the shape. A few are damaged, and then their leak is larger, or their way narrower, by any
/// factor: from about one in twenty-five on, the logarithm of the value goes on in a straight line, damage (z - 1.75),
/// so that factors of damage fall off as the normal distribution's tail does. `damage` 0: never. Its sign says which
/// way.
struct Prior {
  /// How the value goes with z; Phi is the standard normal distribution.
  enum class Shape {
    log_normal,  ///< middle e^(spread z)
    range,       ///< ((low + (high - low) Phi(z))/middle)^power: anywhere between low and high
    wear,        ///< top e^(-middle e^(spread z)): at most `top`, mostly just below it, with a long tail downwards
    soft_wear,   ///< top e^(-middle softplus(spread z)/ln 2): as wear, with a shorter tail
    normal       ///< middle + spread z
  };
  Shape shape = Shape::log_normal;  ///< how the value goes with z, of the whole
  double middle = 1.0;              ///< [its unit]; of wear and soft_wear -ln(value/top) at z = 0 [-]
  double spread = 0.0;              ///< of the logarithm of that [-], or of a normal value itself [its unit]
  double low = 0.0,                 ///< range: lower end [its unit]
      high = 0.0,                   ///< range: upper end [its unit]
      power = 1.0;                  ///< range: to which (value/middle) is raised [-]
  double top = 1.0;                 ///< wear, soft_wear: the largest value [its unit]
  double damage = 0.0;              ///< e-folds of the value per unit of z among the damaged; not with Shape::normal

  /// The value [its unit] at z.
  double at(double z) const;
  double slope(double z) const { return slope(z, at(z)); }  ///< d at/dz
  double slope(double z, double value) const;               ///< the same where at(z) is known to be `value`
  /// The z of a value that the prior can take; values beyond its ends give z = -6 or 6.
  double z_of(double value) const;
  /// The values at the ends of a range, the less first; of another shape the middle twice [its unit].
  std::pair<double, double> ends() const;
  /// This one with such a damage.
  Prior damaged(double e_folds) const;

 private:
  double whole(double z) const;
  double whole_slope(double z, double value) const;
  double whole_z_of(double value) const;
  double damaged_z_of(double wanted) const;  ///< of a damaged log_normal; `wanted`: log(value/middle) [-]
  double side() const;                       ///< where the damaged are: 1 for large z, -1 for small
};

}  // namespace airtally::hunt
