#pragma once

/// Telling two states apart by one noisy number. Source: detection theory, two normal distributions with equal weight;
/// textbook, from memory.
namespace airtally::laws {

/// A reading that scatters normally.
struct Scatter {
  double mean = 0.0;
  double deviation = 0.0;  ///< one standard deviation, > 0
};

/// Probability that a normal reading lies more than `deviations` above its mean.
double upper_tail(double deviations);

/// The way back: how many deviations above the mean leave `probability` (0 < p < 1) beyond.
double deviations_for(double probability);

/// What a threshold gets wrong: `below` is the state that should read under it, `above` the other.
struct ErrorRates {
  double false_above = 0.0;  ///< `below` reads above the threshold [-]
  double false_below = 0.0;  ///< `above` reads below it [-]
};
ErrorRates error_rates(const Scatter& below, const Scatter& above, double threshold);

/// Threshold at which both errors are alike: as many of its own deviations from one mean as from the other.
double equal_error_threshold(const Scatter& below, const Scatter& above);

/// Threshold at which both errors together are least: where the two densities meet between the means, the root of a
/// quadratic; with equal deviations the middle. Needs below.mean < above.mean. Where the narrow state lies deep inside
/// the wide one the densities may not meet in between; the mean nearer to where they would is then returned.
double best_threshold(const Scatter& below, const Scatter& above);

/// How far apart the states are: deviations that lie between each mean and the threshold of equal error,
/// (above.mean - below.mean)/(sum of deviations).
double separation(const Scatter& below, const Scatter& above);

/// What the mean of `count` independent readings scatters by: deviation/sqrt(count).
double averaged(double deviation, double count);

/// What the mean of `count` readings, taken `rate` a second [Hz], leaves at most of a sine of frequency [Hz], whatever
/// its phase and however exactly the frequency is known: 1/(count |sin(pi f/rate)|), never above 1. The envelope of the
/// kernel of Dirichlet: the true rest has zeroes below it, which no pump keeps to.
double ripple_left(double frequency, double rate, double count);

}  // namespace airtally::laws
