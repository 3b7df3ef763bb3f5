#pragma once
#include <cstddef>
#include <string_view>

#include "units/dimension.hpp"

/// First half of parse(): a text cut into numbers, units and what joins them, nothing converted. Private to core/units.
namespace airtally::units {

enum class Joint { none, tolerance, range };

/// A number as written, its unit as written (may be empty), and where each stands.
struct Part {
  double number = 0.0;
  std::string_view digits;
  std::size_t number_at = 0;
  std::string_view unit;
  std::size_t unit_at = 0;
};

struct Scan {
  Part first;
  Joint joint = Joint::none;
  Part second;  ///< behind the joint, if there is one
};

/// A number has decimals behind a point, or is a fraction such as 3/8 or 1 3/8. The views point into `text`.
/// `dimension` serves the hints only. Throws UnitError where no number stands, and for a decimal comma, a dash, two
/// numbers one behind the other, nan, inf and numbers beyond a double.
Scan scan(std::string_view text, Dimension dimension);

}  // namespace airtally::units
