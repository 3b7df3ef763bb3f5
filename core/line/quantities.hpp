#pragma once
#include <functional>
#include <string>

#include "line/line.hpp"
#include "units/dimension.hpp"

namespace airtally::line {

/// Called with each quantity of a line and its name, which is that of `--set`: the name of the element or table and the
/// keys of the file with dots between: "rotary joint.leak.clearance", "pump.curve[2].flow", "part.gap".
using QuantityVisitor =
    std::function<void(const std::string& path, units::Quantity& quantity, units::Dimension dimension)>;

/// Called with each quantity of a line alone.
using NumberVisitor = std::function<void(units::Quantity& quantity)>;

/// Visits every quantity of the line, in the order of its elements, then part, move, cycle and sensor: the one place
/// that knows where in a line numbers stand. The site's are none: they are exact.
void each_quantity(Line& line, const QuantityVisitor& visit);
/// The same without their names, in the same order: a fifth of the time.
void each_number(Line& line, const NumberVisitor& visit);

}  // namespace airtally::line
