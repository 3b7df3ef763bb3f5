#pragma once

/// A noisy reading that something between keeps within limits, such as an amplifier's rails or the range of an ADC.
/// Source: the normal distribution cut off at two limits; derived, textbook of probability, from memory.
namespace airtally::laws {

/// A reading c = clip(x, low, high) + z: x scatters normally by `before` about `mean`, z by `after` about 0, and the
/// two have nothing to do with each other. All in the reading's unit.
struct Clipped {
  double mean = 0.0;    ///< of x, were there no limits
  double before = 1.0;  ///< one standard deviation of what comes ahead of the limits, > 0
  double after = 1.0;   ///< one standard deviation of what is added behind them, > 0
  double low = 0.0;     ///< lower limit
  double high = 0.0;    ///< upper limit, >= low
};

/// Mean of c. Exact. Throws DomainError, as the four below, for a deviation that is not above zero or a lower limit
/// above the upper one.
double clipped_mean(const Clipped& reading);

/// Standard deviation of c. Exact: with the limits at a and b deviations from the mean,
/// var = a^2 P(x < low) + b^2 P(x > high) + P(between) + a f(a) - b f(b) - (shift of the mean)^2, in squares of
/// `before`, and after^2 on top; f is the normal density.
double clipped_deviation(const Clipped& reading);

/// Whether the limits lie so far off, 8 deviations or more, that they change nothing that can be told.
bool is_free(const Clipped& reading);

/// Probability that c lies above `threshold`. A free reading is normal; for others the integral over z is taken with 20
/// points on every stretch between the places where it bends, good to 1e-9 of the answer.
double share_above(const Clipped& reading, double threshold);

/// Probability that c lies below `threshold`.
double share_below(const Clipped& reading, double threshold);

}  // namespace airtally::laws
