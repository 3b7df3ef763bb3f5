#pragma once
#include <functional>
#include <string>

#include "line/line.hpp"
#include "units/dimension.hpp"

namespace airtally::line {

/// Whose quantity it is, and under which key. Nothing keeps an element from being named like a table of the file, so
/// that the text alone does not tell.
struct QuantityName {
  const Element* element = nullptr;  ///< that has it; nullptr: a table of the file has
  std::string owner;                 ///< name of that element or table
  std::string key;                   ///< the keys of the file with dots between: "leak.clearance"
  /// As `--set` has it, and as people read it: "rotary joint.leak.clearance", "pump.curve[2].flow", "part.gap".
  std::string path() const { return owner + '.' + key; }
};

/// Called with each quantity of a line and its name.
using QuantityVisitor =
    std::function<void(const QuantityName& name, units::Quantity& quantity, units::Dimension dimension)>;

/// Called with each quantity of a line alone.
using NumberVisitor = std::function<void(units::Quantity& quantity)>;

/// Visits every quantity of the line, in the order of its elements, then part, move, cycle and sensor: the one place
/// that knows where in a line numbers stand. The site's are none: they are exact.
void each_quantity(Line& line, const QuantityVisitor& visit);
/// The same without their names, in the same order: a fifth of the time.
void each_number(Line& line, const NumberVisitor& visit);

}  // namespace airtally::line
