#pragma once
#include <vector>

#include "hunt/next/next_test.hpp"

namespace airtally::hunt {

/// What the first test has to part. By the prior most lines are well, and which element is then the worst by a hair is
/// no one's question; who takes up a gauge has parts that drop. So every element in turn has a fault of each kind that
/// takes 5 to 60 % of the tip's vacuum, as far as it is then the worst, with the rest of the line drawn from the prior.
/// Each element weighs as its likeliest fault does by the prior, a leak's made three times as wide, so that the usual
/// suspects don't crowd out the others. Of what they cost the tips nothing is said. `tips`: one state per nozzle. None
/// where fewer than two elements can be at fault. Some hundred solves per element; the same on any machine. Throws
/// NoConvergence. Tested by tests/hunt/troubled_test.cpp.
Beliefs troubled(const Suspects& suspects, const std::vector<solve::TipState>& tips);

}  // namespace airtally::hunt
