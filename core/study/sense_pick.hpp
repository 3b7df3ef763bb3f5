#pragma once
#include <optional>

#include "study/sense.hpp"

namespace airtally::study {

/// What the sensor at the element `at` feels of the part on `nozzle`, an index into the line, in one pick of the file's
/// [cycle]. A part reads as held once the vacuum there stays above `level` [Pa] until place, a missed one as missed
/// once it stays below `threshold` [Pa], and each `averaging` [s] later.
/// Nothing without a [cycle], or where its times don't go together. Throws NoConvergence.
std::optional<SensedPick> sensed_pick(const line::Line& line, std::size_t at, std::size_t nozzle, double threshold,
                                      double level, double averaging);

}  // namespace airtally::study
