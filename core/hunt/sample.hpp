#pragma once
#include <cstdint>
#include <functional>
#include <vector>

#include "hunt/modes.hpp"

namespace airtally::hunt {

struct SampleOptions {
  std::size_t count = 512;  ///< samples in all
  int populations = 4;      ///< independent of each other, for the convergence check; they share the processors
  int sweeps = 3;           ///< over all moves of every sample once the posterior is reached
  std::uint64_t seed = 1;
  std::function<void(double)> progress;  ///< told the share done, 0 to 1; called from one thread
};

/// Samples of the posterior, all of the same weight.
struct Samples {
  std::vector<std::vector<double>> z;  ///< per sample: all unknowns; population by population
  double effective = 0.0;   ///< effective sample size: what the spread between populations leaves of the count
  double r_hat = 1.0;       ///< split R-hat over the populations, the worst of the unknowns (Gelman and Rubin 1992)
  double acceptance = 1.0;  ///< share of moves taken
  int temperatures = 0;     ///< steps from the normal mixture to the posterior
  std::size_t evaluations = 0;
};

/// Draws from the posterior by sequential Monte Carlo (Del Moral, Doucet and Jasra, J. R. Stat. Soc. B 68 (2006) 411):
/// from the mixture of normal distributions at the peaks, whose masses it starts from, through geometric bridges to
/// the posterior, each as far as keeps half the effective sample; after each, samples are drawn again by weight and
/// moved by Metropolis steps. Those that move all unknowns at once follow the local linearisation (the stochastic
/// Newton proposal of Martin, Wilcox, Burstedde and Ghattas, SIAM J. Sci. Comput. 34 (2012) A1460, with an
/// autoregressive step so that any length leaves a normal distribution as it is). Nothing here but the number of
/// samples limits its truth; the peaks only make it quick. Seeded: the same on every run, whatever the number of
/// processors.
Samples sample(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench,
               const std::vector<Mode>& modes, const SampleOptions& options);

/// Independent draws from the normal mixture, weighted towards the posterior; for an answer in milliseconds. The
/// weights add up to 1.
struct Weighted {
  std::vector<std::vector<double>> z;
  std::vector<double> weight;
  double effective = 0.0;
};
Weighted quick_sample(Evidence& evidence, const std::vector<Mode>& modes, std::size_t count, std::uint64_t seed);

}  // namespace airtally::hunt
