#pragma once
#include <vector>

#include "hunt/rivals.hpp"

namespace airtally::hunt {

/// Puts the first test to the front that leaves the fewest of `rivals`, should its readings be what is expected if
/// `blamed` is at fault: with these readings added each rival is tried anew, free to explain them in its own way. What
/// the draws say beforehand is only what the rivals make of the line now, and a test that tells a bit by them may leave
/// all standing. Where as many are left, the order stays. The finalists are tried, four at a time until one leaves
/// none. `modes`: the peaks, at least one; `tips`: one state per nozzle; `tests`: in the order of preference. Throws
/// NoConvergence. Tested by tests/hunt/rivals_test.cpp.
void put_parting_first(const Suspects& suspects, Evidence& evidence, const Bench& bench, const std::vector<Mode>& modes,
                       const std::vector<solve::TipState>& tips, std::size_t blamed, const std::vector<Rival>& rivals,
                       std::vector<NextTest>& tests);

}  // namespace airtally::hunt
