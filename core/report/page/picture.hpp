#pragma once
#include <string>

#include "report/page/data_table.hpp"
#include "report/page/markup.hpp"

namespace airtally::report::page {

/// Widths for which every picture is drawn: of a laptop's column or a sheet of paper, and of a phone.
inline constexpr double wide = 760.0, narrow = 358.0;

/// A picture with all that it needs to be understood without being seen.
struct Picture {
  std::string id;       ///< of its figure; also the name of its file
  std::string title;    ///< a few words
  std::string text;     ///< what it shows, for those who can't see it
  std::string on_wide;  ///< the SVG element
  std::string on_narrow;
  std::string live;    ///< JSON of the plot for page.js; empty: the drawing is all there is
  std::string legend;  ///< how to read it, a sentence or two; may be empty
  DataTable table;
};

/// Begins an SVG element of that size [px], with its title and description; `close()` ends it.
void open_svg(Markup& out, const std::string& id, const std::string& title, const std::string& text, double width,
              double height);

/// The columns of pixels that text of that size [px] takes, about: sans-serif letters are half as wide as high and a
/// little more.
double text_width(std::string_view text, double size);
/// As much of the text as fits into `width` pixels, its middle left out where it must.
std::string fitted(std::string_view text, double width, double size);

/// <text> at a place; `anchor` is start, middle or end; `kind` a class of the stylesheet.
void label(Markup& out, double x, double y, std::string_view text, std::string_view anchor, std::string_view kind);

/// The wide drawing as a file of its own, its stylesheet in it.
std::string svg_file(const Picture& picture);

}  // namespace airtally::report::page
