#pragma once
#include <vector>

#include "hunt/next/next_test.hpp"

namespace airtally::hunt {

/// The chance that one of some elements (indices into the line) is worse than filed, notably or by half its way, as it
/// was before anything was read of them: their faults drawn from their priors, all else as `beliefs` have it [-]. Of a
/// dozen nozzles one is a little clogged, whatever is read. `tips`: one state per nozzle. A hundred draws.
double chance_before(const Suspects& suspects, const Beliefs& beliefs, const std::vector<solve::TipState>& tips,
                     const std::vector<std::size_t>& elements);

}  // namespace airtally::hunt
