#pragma once
#include <memory>
#include <optional>
#include <vector>

#include "hunt/samples/sample.hpp"

namespace airtally::hunt {

/// Samples that are each a fit (fitted_private.hpp): `options.count` of them, or two or three times as many where their
/// weights leave too few. `evidence`: one per population, each for its own thread. None where half of the first are
/// lost.
std::optional<Samples> fitted_samples(const std::vector<std::unique_ptr<Evidence>>& evidence,
                                      const std::vector<Mode>& modes, const SampleOptions& options);

}  // namespace airtally::hunt
