#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "hunt/fit/modes.hpp"

namespace airtally::hunt {

/// How well the best state of the line explains the readings.
struct Quality {
  double chi_square = 0.0;           ///< misfit of the best peak [-]
  double freedom = 0.0;              ///< effective degrees of freedom: readings less what the fit takes up [-]
  double chance = 1.0;               ///< of a misfit at least as large when the line file is right [-]
  std::optional<std::size_t> worst;  ///< the reading that fits worst, by its own standard deviation less its leverage
  double worst_misfit = 0.0;         ///< of that reading, predicted less read [its unit]
  double worst_deviations = 0.0;     ///< the same in standard deviations [-]
  bool bad = false;                  ///< the chance is below 1 %: the line file can't explain the readings
};

/// Under the linearised model the misfit is a sum of squares with weights 1 - (eigenvalues of the hat matrix); its law
/// is taken as a scaled chi-square of the same mean and variance (Satterthwaite, Biometrics Bulletin 2 (1946) 110). Not
/// below the chance of so large a sum of squares of noise alone, with the effective degrees of freedom, or one.
Quality quality_of(const Mode& mode, Evidence& evidence);

/// Probability [-] that a chi-square variable of `freedom` > 0 degrees exceeds `value` >= 0.
double chi_square_chance(double value, double freedom);

}  // namespace airtally::hunt
