#pragma once
#include <optional>
#include <string>
#include <vector>

#include "report/page/picture.hpp"
#include "study/bands.hpp"

/// Bars that lie: what both pictures of costs are made of.
namespace airtally::report::page {

/// One bar. It runs from `from` to `from` + `size` [SI].
struct Bar {
  double from = 0.0, size = 0.0;
  std::optional<study::Band> band;  ///< of its end
  std::string text;                 ///< its number; empty for a vacuum, which is written in every unit
  bool gain = false;                ///< of a vacuum: "+" before it
  int colour = 1;
};

/// Bars of one kind on one scale, a row each.
struct BarBlock {
  std::string title;
  std::string unit;  ///< behind the title; empty for a vacuum
  bool vacuum = false;
  std::vector<std::optional<Bar>> bars;  ///< one per row; none: nothing to show there
};

/// Draws blocks beside each other, or below each other where the width is a phone's, with the rows' names.
std::string bars_drawn(const std::string& id, const std::string& title, const std::string& text,
                       const std::vector<std::string>& names, const std::vector<BarBlock>& blocks, const Units& units,
                       double width);

}  // namespace airtally::report::page
