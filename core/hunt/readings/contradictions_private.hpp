#pragma once
#include <vector>

#include "hunt/readings/beside.hpp"

namespace airtally::hunt {

/// Whether step `nearer` lies between `step` and its source; both are indices into the strip's steps.
bool is_nearer(const study::Strip& strip, std::size_t nearer, std::size_t step);

/// Whether both were read at one instrument, with the same states of the tips.
bool same_instrument(const Beside& a, const Beside& b);

/// Pairs of readings in `list` that can't both be right: one setting that gave two readings, or, on a line with a
/// single source, a vacuum that rose when more of the line was on the source. More line is more leak, so it can only
/// fall. A pair counts when it is apart by more than three standard deviations and by more than the instrument is good
/// to.
std::vector<Contradiction> contradictions(const line::Line& line, const study::Strip& strip,
                                          const std::vector<Beside>& list);

}  // namespace airtally::hunt
