#pragma once
#include <optional>

#include "hunt/readings/beside.hpp"
#include "hunt/readings/cut.hpp"

namespace airtally::hunt {

/// What the line file says that a gauge or an ammeter shows with the line so cut [Pa] or [A]; nothing of another
/// instrument, or where the motor's current is not known. Throws NoConvergence.
std::optional<double> filed(const line::Line& line, const Cut& left, const Reading& reading);

/// That reading, which is no step and no branch, beside the file. Nothing where filed() has none. Throws NoConvergence.
std::optional<BesideOther> other_beside(const line::Line& line, const line::Topology& topology, const Bench& bench,
                                        const Reading& reading);

/// By how many of the instrument's own standard deviations it is off the file; 0 within three of them, or within a
/// tenth of what the file says.
double far_off(const BesideOther& other);

}  // namespace airtally::hunt
