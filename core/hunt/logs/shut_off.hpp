#pragma once
#include "line/line.hpp"

namespace airtally::hunt {

/// Where a line shuts its pump off by itself, an index into the line: its first check valve, else the first source.
std::size_t shut_off(const line::Line& line);

/// Volume on the tip's side of `element` when it shuts, tips blocked [m3] >= 0: that of the whole line less that of the
/// line capped behind it, with what the element holds itself, its gauge too, where it closes_behind_itself(). The line
/// may be a capped one, without a nozzle. Throws BadInput when the line is no sound graph. Tested by
/// tests/hunt/shut_off_test.cpp.
double shut_volume(const line::Line& line, std::size_t element);

}  // namespace airtally::hunt
