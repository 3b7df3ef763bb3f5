#pragma once

/// A value as a person gives it: with or without a tolerance.
namespace airtally::units {

/// How a value may differ from what was written.
enum class Spread {
  exact,   ///< as written
  normal,  ///< "a ± t": a normal distribution, t is two standard deviations
  uniform  ///< "a..b": anywhere between
};

/// A value in SI with its spread. `low` and `high` are the two-sigma ends (normal) or the ends of the range (uniform);
/// both equal `value` when exact.
struct Quantity {
  double value = 0.0;
  Spread spread = Spread::exact;
  double low = 0.0;
  double high = 0.0;

  Quantity() = default;
  /// An exact value; implicit, so that lines built in code read like the line file.
  Quantity(double exact) : value(exact), low(exact), high(exact) {}  // NOLINT(google-explicit-constructor)

  /// a ± tolerance, two sigma.
  static Quantity normal(double a, double tolerance) {
    Quantity q(a);
    q.spread = Spread::normal;
    q.low = a - tolerance;
    q.high = a + tolerance;
    return q;
  }
  /// Anywhere between a and b, a <= b; the value is their middle.
  static Quantity uniform(double a, double b) {
    Quantity q(0.5 * (a + b));
    q.spread = Spread::uniform;
    q.low = a;
    q.high = b;
    return q;
  }
};

}  // namespace airtally::units
