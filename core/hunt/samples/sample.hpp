#pragma once
#include <cstdint>
#include <functional>
#include <vector>

#include "hunt/fit/modes.hpp"

namespace airtally::hunt {

/// How the posterior is sampled.
struct SampleOptions {
  std::size_t count = 768;  ///< samples in all, to begin with
  int populations = 4;      ///< independent of each other, for the convergence check; they share the processors
  int turns = 8;            ///< at most: times that `count` are drawn, as long as they don't tell enough
  std::uint64_t seed = 1;   ///< the same seed, the same samples
  std::function<void(double)> progress;  ///< told the share done, 0 to 1; called from one thread
};

/// For an answer in a quarter of a second on a line of a dozen elements.
SampleOptions quick_options(std::uint64_t seed);

// What samples must have for their intervals and probabilities to be trusted.
inline constexpr double fewest_effective = 100.0;  ///< Samples::effective
inline constexpr double most_r_hat = 1.1;          ///< Samples::r_hat, below (Gelman and Rubin 1992)
inline constexpr double most_lost = 0.05;          ///< Samples::lost

/// Samples of the posterior with their weights, which add up to 1.
struct Samples {
  std::vector<std::vector<double>> z;  ///< per sample: all unknowns [-]; population by population
  std::vector<double> weight;          ///< per sample [-], adding up to 1; 0 of what no state of the line answers to
  std::size_t populations = 1;         ///< of the same size, one after the other
  double effective = 0.0;   ///< effective sample size [-]: what the weights and the spread between populations leave
  double r_hat = 1.0;       ///< split R-hat over the populations, the worst of the unknowns [-] (Gelman and Rubin 1992)
  double efficiency = 1.0;  ///< effective sample size by the weights alone, over the count [-]
  double lost = 0.0;        ///< share of samples that there are but were not found, about, at most [-]
  std::size_t evaluations = 0;  ///< of all readings on the solved line

  /// Whether intervals and probabilities may be trusted.
  bool converged() const { return effective >= fewest_effective && r_hat < most_r_hat && lost <= most_lost; }
};

/// Draws from the posterior by importance sampling: each draw is a fit to beliefs and readings that were scattered at
/// random (fitted_private.hpp), around one of the peaks, each with its share, and weighed by the line's posterior over
/// the density of all such draws (a deterministic mixture: Owen and Zhou, J. Am. Stat. Assoc. 95 (2000) 135). The line
/// itself is solved for each, so the weights, their effective number and the agreement of the populations tell whether
/// the answer is true; the peaks only make it quick. Where they are not enough, more are drawn. Where that would not
/// do, as a few draws take most of the weight, draws are too rare there: from then on these places are drawn from as
/// well, and all is drawn anew (population Monte Carlo: Cappe, Guillin, Marin and Robert, J. Comput. Graph. Stat. 13
/// (2004) 907). Seeded: the same on every run, whatever the number of processors.
///
/// `modes`: at least one, that of the greatest mass first. Where none of the draws is a state of the line, the samples
/// are the peaks themselves.
Samples sample(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench,
               const std::vector<Mode>& modes, const SampleOptions& options);

/// Independent draws from the prior, all of the same weight: what is believed when nothing was read.
Samples prior_sample(const Suspects& suspects, std::size_t count, std::uint64_t seed);

}  // namespace airtally::hunt
