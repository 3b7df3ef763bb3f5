#pragma once
#include <optional>
#include <string>
#include <vector>

#include "report/style.hpp"

namespace airtally::report {

/// Points of a log in a chart at most, so that the other curve shows between them.
inline constexpr std::size_t most_log_points = 60;

/// Points to be joined, x rising; both axes already in the units that the chart names.
struct Curve {
  std::string name;       ///< for the legend
  std::vector<double> x;  ///< rising, >= 0, in Chart::x_unit
  std::vector<double> y;  ///< one per x, in Chart::y_unit
};

/// A curve for the terminal. Both axes start at zero.
struct Chart {
  std::vector<Curve> curves;   ///< at most six; each gets a sign of its own when there are several
  std::string x_unit,          ///< written at the end of the axis
      y_unit;                  ///< the same of the other
  std::optional<double> mark;  ///< a moment to be marked, in x_unit
  std::string mark_text;       ///< what happens then
  std::size_t columns = 80;    ///< widest row [columns]
  std::size_t rows = 12;       ///< of the curve itself; four more for axis and text
};

/// Draws it: dots of braille, or ASCII signs where the style asks for it or curves have to be told apart. Values that
/// are not finite are left out. No line ends in a space.
std::string draw(const Chart& chart, const Style& style);

/// A round step (1, 2 or 5 times a power of ten) that cuts `span` > 0 into at most `parts` pieces.
double round_step(double span, std::size_t parts);

}  // namespace airtally::report
