#pragma once
#include <span>
#include <vector>

#include "hunt/fit/evidence.hpp"

namespace airtally::hunt {

/// A peak of the posterior and the normal distribution that touches it there (Laplace's approximation).
struct Mode {
  std::vector<double> z;          ///< the peak [-], one per unknown
  double misfit = 0.0;            ///< sum of squares of the readings' residuals there [-]
  double cost = 0.0;              ///< misfit plus sum of squares of z: minus twice the log posterior [-]
  std::vector<double> precision;  ///< I + J^T J there, row by row [-]
  double log_evidence = 0.0;      ///< log of the mass under the normal distribution [-]
  std::vector<double> leverage;   ///< per reading: how much of its own residual the fit takes up [-], 0 to 1
};

/// How a peak is looked for.
struct ModeReport {
  int starts = 0;       ///< tried
  int evaluations = 0;  ///< of all readings
  int failed = 0;       ///< starts that did not converge
};

/// The peaks of the posterior, the one with most mass first: Levenberg-Marquardt from a healthy line and from one with
/// each thing wrong by itself (look-alike leaks make saddles on which a single start creeps). Peaks that are the same,
/// and those with less than e^-12 of the best one's mass, are left out. Without readings there is one: the prior.
/// Throws NoConvergence when no start ends at a peak.
std::vector<Mode> find_modes(const Suspects& suspects, Evidence& evidence, ModeReport* report = nullptr);

}  // namespace airtally::hunt
