#pragma once
#include <cstdint>
#include <functional>
#include <vector>

#include "hunt/fit/modes.hpp"

namespace airtally::hunt {

/// How the posterior is sampled.
struct SampleOptions {
  std::size_t count = 768;  ///< samples in all
  int populations = 4;      ///< independent of each other, for the convergence check; they share the processors
  int sweeps = 12;          ///< over all moves of every sample once the posterior is reached
  int blocks = 12;          ///< at most: times that all are swept on because the populations do not agree yet
  int rounds = 4;           ///< at most: times that the stand-in is mended where the line says otherwise
  int passes = 1;           ///< at most: times that it is mended again because a few samples have most of the weight
  bool lead_on = true;      ///< where weighing leaves too few samples, lead some on by the line alone: most of the time
  bool tails = true;        ///< look for mass in the tails, where the peaks tell of none
  int long_blocks = 6;      ///< at most: times that samples led on by the line alone are moved on
  std::uint64_t seed = 1;   ///< the same seed, the same samples
  std::function<void(double)> progress;  ///< told the share done, 0 to 1; called from one thread
};

/// For an answer in a quarter of a second.
SampleOptions quick_options(std::uint64_t seed);

// What samples must have for their intervals and probabilities to be trusted.
inline constexpr double fewest_effective = 100.0;  ///< Samples::effective
inline constexpr double most_r_hat = 1.1;          ///< Samples::r_hat, below (Gelman and Rubin 1992)
inline constexpr double most_lost = 0.05;          ///< Samples::lost

/// Samples of the posterior with their weights, which add up to 1.
struct Samples {
  std::vector<std::vector<double>> z;  ///< per sample: all unknowns [-]; population by population
  std::vector<double> weight;          ///< per sample [-], adding up to 1
  std::size_t populations = 1;         ///< of the same size, one after the other
  double effective = 0.0;   ///< effective sample size [-]: what the weights and the spread between populations leave
  double r_hat = 1.0;       ///< split R-hat over the populations, the worst of the unknowns [-] (Gelman and Rubin 1992)
  double efficiency = 1.0;  ///< effective sample size by the weights alone, over the count [-]
  double acceptance = 1.0;  ///< share of moves taken [-]
  int temperatures = 0;     ///< steps from the normal mixture to the posterior
  double lost = 0.0;        ///< share of samples that could not be drawn [-]
  std::size_t anchors = 0;  ///< linearisations of the line that stood in for it
  std::size_t evaluations = 0;  ///< of all readings on the solved line

  /// Whether intervals and probabilities may be trusted.
  bool converged() const { return effective >= fewest_effective && r_hat < most_r_hat && lost <= most_lost; }
};

/// Draws from the posterior in two stages, or three.
///
/// First sequential Monte Carlo (Del Moral, Doucet and Jasra, J. R. Stat. Soc. B 68 (2006) 411) on a stand-in for the
/// line, linear between anchors, which costs a hundredth of a solve: from the mixture of normal distributions at the
/// peaks through geometric bridges to the stand-in's posterior, each as far as keeps a fifth of the samples effective;
/// after each, samples are drawn again by weight and moved by Metropolis steps. Those that move all unknowns at once
/// follow the local linearisation (the stochastic Newton proposal of Martin, Wilcox, Burstedde and Ghattas, SIAM J.
/// Sci. Comput. 34 (2012) A1460, with an autoregressive step so that any length leaves a normal distribution as it is).
/// Where the solved line says otherwise than the stand-in, it gets new anchors, and the samples move on.
///
/// Then every sample is solved for, and weighed by the line's posterior over the stand-in's (importance sampling). So
/// the weights, their effective number and the agreement of the populations tell whether the answer is true; the peaks
/// and the stand-in only make it quick. Where no stand-in will do, as the posterior is bent in many directions, each
/// sample is a fit instead (fitted_private.hpp), weighed in the same way, if these converge and few are lost. Where a
/// few samples take most of the weight, the stand-in is mended there and
/// all are drawn anew from it; where they still do, a third of them are led from the stand-in's posterior to the line's
/// by steps that the line itself accepts or refuses (population_private.hpp), and all weigh alike. Seeded: the same on
/// every run, whatever the number of processors.
Samples sample(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench,
               const std::vector<Mode>& modes, const SampleOptions& options);

/// Independent draws from the prior, all of the same weight: what is believed when nothing was read.
Samples prior_sample(const Suspects& suspects, std::size_t count, std::uint64_t seed);

}  // namespace airtally::hunt
