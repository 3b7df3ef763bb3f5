#pragma once
#include <vector>

#include "hunt/hunt.hpp"

namespace airtally::hunt {

/// Median and nine-in-ten range of weighted values.
Interval interval_of(const std::vector<double>& values, const std::vector<double>& weight);

/// Elements, others and look-alikes into `result`, most probably the worst first. `modes`: the peaks, at least one.
void find_elements(const Suspects& suspects, const Beliefs& beliefs, const std::vector<Mode>& modes, Hunt& result);

/// Hunt::amiss_among and what goes with it, where the readings have made it four times less likely that it is none of
/// them; the elements must be in `result`.
void find_among(const Suspects& suspects, const Beliefs& beliefs, const std::vector<solve::TipState>& tips,
                Hunt& result);

/// The least chance that any population gives the element. `population`: of each sample.
double agreement(const Beliefs& beliefs, const std::vector<std::size_t>& population, std::size_t element);

/// The readings that were fitted beside what the samples make of them, and a line as filed.
void compare(const Suspects& suspects, const Bench& bench, const Beliefs& beliefs, Evidence& evidence, Hunt& result);

}  // namespace airtally::hunt
