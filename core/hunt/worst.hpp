#pragma once
#include <vector>

#include "hunt/forward.hpp"

namespace airtally::hunt {

/// What each element costs the tips in each sample, with the tips in their usual state.
struct Costs {
  std::vector<std::vector<double>> gain;  ///< per sample, per element: what mending it would gain [Pa]
  std::vector<std::size_t> worst;         ///< per sample: the element whose mending gains most
  std::vector<double> tip_vacuum;         ///< per sample: the best tip's [Pa]
};

/// Solves each sample once as it is and once with each element mended (exact, no linearisation): leaks gone, way clear,
/// a pump as good as its curve. Samples that cannot be solved are an error of the caller: they come from a fit that
/// solved them. `z`: per sample all unknowns; `tips`: one state per nozzle. Throws NoConvergence.
Costs costs_of(const Suspects& suspects, const std::vector<std::vector<double>>& z,
               const std::vector<solve::TipState>& tips);

}  // namespace airtally::hunt
