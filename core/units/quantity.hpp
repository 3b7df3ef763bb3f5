#pragma once
#include <limits>

namespace airtally::units {

/// How sure a value is.
enum class Spread {
  exact,   ///< as stated
  normal,  ///< stated with a tolerance, which is two standard deviations
  uniform  ///< stated as a range: anywhere between its ends, all alike
};

/// A value in SI with what the file says about its uncertainty. Converts from a plain double, which is exact.
struct Quantity {
  double value = 0.0;             ///< best estimate [SI]; of a range the midpoint
  Spread spread = Spread::exact;  ///< kind of uncertainty
  double low = 0.0;               ///< value - tolerance, or the lower end of the range [SI]
  double high = 0.0;              ///< value + tolerance, or the upper end of the range [SI]
  double least =
      -std::numeric_limits<double>::infinity();           ///< it can't fall short of this, whatever its tolerance [SI]
  double most = std::numeric_limits<double>::infinity();  ///< nor exceed this [SI]

  /// Exactly 0.
  Quantity() = default;
  /// Exactly that [SI].
  Quantity(double exact) : value(exact), low(exact), high(exact) {}  // NOLINT: made to convert

  /// A value [SI] with a normal tolerance [SI] of two standard deviations; exact where the tolerance is not above 0.
  static Quantity normal(double value, double tolerance) {
    return tolerance > 0.0 ? Quantity(value, Spread::normal, value - tolerance, value + tolerance) : Quantity(value);
  }
  /// A value anywhere between `low` and `high` [SI]; exactly `low` unless low < high.
  static Quantity uniform(double low, double high) {
    return low < high ? Quantity(low + 0.5 * (high - low), Spread::uniform, low, high) : Quantity(low);
  }

  /// Whether the file leaves no doubt about it.
  bool is_exact() const { return spread == Spread::exact; }
  /// One standard deviation [SI]: half the tolerance, or the width of the range over the square root of 12; 0 when
  /// exact.
  double standard_deviation() const {
    constexpr double root_of_12 = 3.4641016151377544;
    if (spread == Spread::exact) return 0.0;
    return spread == Spread::normal ? 0.25 * (high - low) : (high - low) / root_of_12;
  }

 private:
  Quantity(double v, Spread s, double l, double h) : value(v), spread(s), low(l), high(h) {}
};

}  // namespace airtally::units
