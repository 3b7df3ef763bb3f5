#pragma once
#include <vector>

#include "hunt/next/next_test.hpp"
#include "hunt/verdict/rivals.hpp"

namespace airtally::hunt {

/// Puts the first test to the front that leaves the fewest of `rivals` unparted, speaking against the others itself,
/// should its readings be what is expected if `blamed` is at fault: with these readings added each rival is tried anew,
/// free to explain them in its own way. What the draws say beforehand is only what the rivals make of the line now, and
/// a test that tells a bit by them may leave all standing. Where as many are left, the one goes first that speaks most
/// against any of them; the order stays where all are parted. The finalists are tried, four at a time until one leaves
/// none. Returns whether the first leaves fewer, or speaks against any by one standard deviation more than the readings
/// so far; what only reads again what was read has to leave fewer. Where none does, the first goes to the front that
/// tells a quarter of a bit by the draws: the blamed's fault need not be what it is best taken to be. `modes`: the
/// peaks, at least one; `tips`: one state per nozzle; `tests`: in the order of preference. Throws NoConvergence. Tested
/// by tests/hunt/rivals_test.cpp.
bool put_parting_first(const Suspects& suspects, Evidence& evidence, const Bench& bench, const std::vector<Mode>& modes,
                       const std::vector<solve::TipState>& tips, std::size_t blamed, const std::vector<Rival>& rivals,
                       std::vector<NextTest>& tests);

/// What the next test has to part: half the weight for samples of `beliefs`, half for the rivals' draws. Of what these
/// cost the tips nothing is said.
Beliefs with_rivals(const Beliefs& beliefs, const std::vector<Rival>& rivals);

/// Leaves of a test's outcomes those that speak for `blamed`, whose likeliest is then what its first dial is expected
/// to show: which of many rivals it would be else is for later.
void keep_blamed(NextTest& test, std::size_t blamed, const std::vector<Rival>& rivals);

}  // namespace airtally::hunt
