#pragma once
#include <span>

namespace airtally::hunt {

/// The value below which lies `share` [-] of the weight: the first, in rising order, at which the sum of the weights
/// reaches it; the largest where none does. `values`: at least one; `weight`: one per value, >= 0.
double weighted_quantile(std::span<const double> values, std::span<const double> weight, double share);

}  // namespace airtally::hunt
