#pragma once
#include <cstddef>
#include <string>
#include <vector>

namespace airtally::report {

/// Cells of a terminal to draw on. Row 0 is the top one. A cell holds one sign, or up to eight dots of braille (two
/// wide, four high), which win over the sign.
class Canvas {
 public:
  /// Empty, of that many cells across and down, both above 0.
  Canvas(std::size_t columns, std::size_t rows);

  /// Puts a sign, one column wide. Beyond the edge nothing happens.
  void put(std::size_t column, std::size_t row, const std::string& sign);
  /// Sets a dot; dots count two per column and four per row from the top left. Beyond the edge nothing happens.
  void dot(std::size_t x, std::size_t y);

  /// One row as UTF-8, `columns` wide; `row` < rows.
  std::string row(std::size_t row) const;

 private:
  std::size_t columns_, rows_;
  std::vector<std::string> signs_;
  std::vector<unsigned char> dots_;
};

}  // namespace airtally::report
