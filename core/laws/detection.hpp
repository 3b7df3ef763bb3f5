#pragma once

/// Telling two states apart by one noisy number. Source: detection theory, two normal distributions with equal weight;
/// textbook, from memory.
namespace airtally::laws {

/// A reading that scatters normally.
struct Scatter {
  double mean = 0.0;       ///< in the reading's unit
  double deviation = 0.0;  ///< one standard deviation, in the same unit, > 0
};

/// Probability that a normal reading lies more than `deviations` of its own standard deviation above its mean [-].
double upper_tail(double deviations);

/// The way back: how many deviations [-] above the mean leave `probability` (0 < p < 1) beyond. Throws DomainError
/// outside.
double deviations_for(double probability);

/// What a threshold gets wrong.
struct ErrorRates {
  double false_above = 0.0;  ///< the state `below` reads above the threshold [-], 0 to 1
  double false_below = 0.0;  ///< the state `above` reads below it [-], 0 to 1
};
/// What `threshold`, in the readings' unit, gets wrong when `below` is the state that should read under it, `above` the
/// other. Throws DomainError for a deviation that is not above zero.
ErrorRates error_rates(const Scatter& below, const Scatter& above, double threshold);

/// Threshold at which both errors are alike: as many of its own deviations from one mean as from the other. In the
/// readings' unit. Throws DomainError for a deviation that is not above zero.
double equal_error_threshold(const Scatter& below, const Scatter& above);

/// Threshold at which both errors together are least: where the two densities meet between the means, the root of a
/// quadratic; with equal deviations the middle. Needs below.mean < above.mean. Where the narrow state lies deep inside
/// the wide one the densities may not meet in between; the mean nearer to where they would is then returned. Throws
/// DomainError unless the means are so and both deviations are above zero.
double best_threshold(const Scatter& below, const Scatter& above);

/// How far apart the states are: deviations that lie between each mean and the threshold of equal error,
/// (above.mean - below.mean)/(sum of deviations) [-]. Below 0 where the states are the wrong way round. Checks nothing.
double separation(const Scatter& below, const Scatter& above);

/// What the mean of `count` >= 1 independent readings scatters by: deviation/sqrt(count), in the deviation's unit.
/// Throws DomainError below one reading.
double averaged(double deviation, double count);

/// Share [-] that the mean of `count` readings, taken `rate` a second [Hz], leaves at most of a sine of frequency [Hz],
/// whatever its phase and however exactly the frequency is known: 1/(count |sin(pi f/rate)|), never above 1. The
/// envelope of the kernel of Dirichlet: the true rest has zeroes below it, which no pump keeps to. `frequency` >= 0,
/// `rate` > 0, `count` >= 1. Throws DomainError outside.
double ripple_left(double frequency, double rate, double count);

}  // namespace airtally::laws
