#pragma once
#include <cstddef>
#include <vector>

namespace airtally::hunt {

/// How well samples agree.
struct Convergence {
  double effective = 0.0;  ///< effective number of samples [-]
  double r_hat = 1.0;      ///< split R-hat, the worst over the unknowns [-] >= 1; 1 where it can't be had
};

/// How well independent populations of samples agree. `z`: per sample all unknowns, population by population, each of
/// the same size; `weight` per sample, empty when all are alike. R-hat is split (each population cut in half; Gelman
/// and others, Bayesian Data Analysis, 3rd ed., section 11.4), the worst over the unknowns. The effective sample size
/// is that of the weights, 1/(sum of squares), less what the variance of the population means exceeds that of
/// independent samples by; pooled over the unknowns, since a few populations say little of one.
Convergence convergence_of(const std::vector<std::vector<double>>& z, std::size_t populations,
                           const std::vector<double>& weight = {});

}  // namespace airtally::hunt
