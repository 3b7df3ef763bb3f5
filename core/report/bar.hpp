#pragma once
#include <cstddef>
#include <string>

#include "report/style.hpp"

namespace airtally::report {

/// A stretch of an axis, as parts of its whole: 0 is its start, 1 its end.
struct Span {
  double from = 0.0,  ///< where it starts [-]; either end may be the greater
      to = 0.0;       ///< where it ends [-]
};

/// A bar for the terminal over an axis `columns` wide: blocks, whose last is as narrow as an eighth of a column, or "="
/// where the style asks for ASCII. What has a length is seen, however short; what lies beyond the axis is cut, and ends
/// that are not finite draw nothing. No space at its end.
std::string bar(Span span, std::size_t columns, const Style& style);

}  // namespace airtally::report
