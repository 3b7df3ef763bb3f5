#pragma once
#include <vector>

#include "hunt/verdict/worst.hpp"

namespace airtally::hunt {

/// The chance that one of some elements (indices into the line) is worse than filed, notably or by half its way, as it
/// was before anything was read of them: their faults drawn from their priors, all else as samples have it [-]. Of a
/// dozen nozzles one is a little clogged, whatever is read. `samples`: all
/// unknowns of each; `weight`: of each; `tips`: one
/// state per nozzle. A hundred draws.
double chance_before(const Suspects& suspects, const std::vector<std::vector<double>>& samples,
                     const std::vector<double>& weight, const std::vector<solve::TipState>& tips,
                     const std::vector<std::size_t>& elements);

}  // namespace airtally::hunt
