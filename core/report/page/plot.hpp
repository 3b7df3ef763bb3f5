#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "report/page/picture.hpp"

/// Curves, once described, twice shown: as SVG drawn here, and as JSON that page.js gives to its plotting library.
namespace airtally::report::page {

struct Axis {
  enum class Of { vacuum, plain, place };
  Of of = Of::plain;
  std::string label;
  const units::Unit* unit = nullptr;  ///< of a plain axis; none: a bare number
  std::vector<std::string> places;    ///< of a place axis: one per column
  double bottom = 0.0;                ///< [SI]
  double top = 0.0;                   ///< [SI]
};

enum class Stroke { line, dashed, dotted, points, rings };

struct Series {
  std::string name;
  std::vector<double> x, y;  ///< [SI]; x rising
  Stroke stroke = Stroke::line;
  int colour = 1;                 ///< 1 to 6, of the stylesheet
  std::vector<double> low, high;  ///< a band, one per x; empty: none
};

/// A moment, or a place on the x axis.
struct Mark {
  double at = 0.0;  ///< [SI]
  std::string text;
};

/// A height on the y axis: what is needed, what would be had.
struct Level {
  double at = 0.0;   ///< [SI]
  std::string text;  ///< above it; empty: one near it names it as well
};

/// A number written at a place of the plot.
struct Note {
  double x = 0.0, y = 0.0;  ///< [SI]
  double pa = 0.0;          ///< the number, a vacuum
  std::string text;         ///< what it belongs to
};

struct Plot {
  std::string id, title, text;
  Axis x, y;
  std::vector<Series> series;
  std::vector<Mark> marks;
  std::vector<Level> levels;
  std::vector<Note> notes;
  double height = 330.0;
};

/// Axis ends that hold every series, band, mark and level, the upper end a round number.
void fit_axes(Plot& plot, const Units& units);

/// The plot as a static drawing of that width.
std::string drawn(const Plot& plot, const Units& units, double width);

/// The picture of it: both drawings and what page.js needs. Legend and table are the caller's.
Picture picture_of(const Plot& plot, const Units& units);

/// Distance between ticks [SI] for at most that many.
double tick_step(const Axis& axis, const Units& units, std::size_t most);

}  // namespace airtally::report::page

namespace airtally::report {

/// The plot as JSON for page.js: SI, with the units to show it in. Made in core/report/json_plot.cpp.
std::string plot_json(const page::Plot& plot);

}  // namespace airtally::report
