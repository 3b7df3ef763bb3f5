#pragma once
#include <optional>
#include <vector>

#include "hunt/verdict/worst.hpp"

namespace airtally::hunt {

/// The least fault of unknown k, from what it is in `z` on, whose mending gains the tips `cost` [Pa] with all else as
/// in `z`, one per unknown [-]; none when none does. Ten halvings.
std::optional<double> fault_that_costs(const Suspects& suspects, TipCosts& costs, std::vector<double> z, std::size_t k,
                                       double cost);

/// The same that makes its element the worst by far beside another: mending it gains a quarter more than mending
/// `other`, an index into the line, and at least `cost` [Pa].
std::optional<double> fault_that_outdoes(const Suspects& suspects, TipCosts& costs, std::vector<double> z,
                                         std::size_t k, std::size_t other, double cost);

}  // namespace airtally::hunt
