#pragma once
#include <optional>

#include "line/line.hpp"

namespace airtally::line {

/// Whether the part of the line ends on the rim of a nozzle, within its outer edge: a side of it is given, wider than
/// the bore and less than the rim. False without part or rim.
bool ends_on_rim(const Line& line, const Element& nozzle);

/// Outer radius [m] of the ring under the part that air creeps through on its way into the nozzle's mouth: the rim's,
/// or that of the circle inside a part that ends on the rim. For a part that is not round it is the shortest way, so
/// that the leak is not taken for less than it is. Nothing for a nozzle without a rim. `nozzle` is a nozzle of the
/// line.
std::optional<double> land_outer(const Line& line, const Element& nozzle);

}  // namespace airtally::line
