#pragma once
#include <optional>
#include <vector>

#include "hunt/fit/modes.hpp"
#include "hunt/verdict/rivals.hpp"

namespace airtally::hunt {

/// Whose fault would explain the readings as well with `element` (an index into the line) as the line file has it, or
/// worse by less than `parted` [chi-square]: the one that explains them best; nothing where none does. A weak pump
/// makes every leak's step larger, and a leak is readily believed.
///
/// The element's unknowns are held at what the file has, and the peak of the posterior is sought from each fault of
/// each other element. `modes`: the peaks, at least one. Several elements are tried at the same time. As many fits as
/// there are unknowns. Tested by tests/hunt/instead_test.cpp.
std::optional<Rival> instead_of(const Suspects& suspects, Evidence& evidence, const std::vector<Mode>& modes,
                                std::size_t element);

}  // namespace airtally::hunt
