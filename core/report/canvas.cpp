#include "report/canvas.hpp"

#include <array>

namespace airtally::report {

Canvas::Canvas(std::size_t columns, std::size_t rows)
    : columns_(columns), rows_(rows), signs_(columns * rows, " "), dots_(columns * rows, 0) {}

void Canvas::put(std::size_t column, std::size_t row, const std::string& sign) {
  if (column < columns_ && row < rows_) signs_[row * columns_ + column] = sign;
}

void Canvas::dot(std::size_t x, std::size_t y) {
  // Unicode, Braille Patterns (U+2800): dots 1 to 8 are the bits 0 to 7; 1 2 3 7 run down on the left, 4 5 6 8 on the
  // right.
  constexpr std::array<std::array<unsigned char, 2>, 4> bits{{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}};
  if (x >= 2 * columns_ || y >= 4 * rows_) return;
  unsigned char& cell = dots_[y / 4 * columns_ + x / 2];
  cell = static_cast<unsigned char>(cell | bits[y % 4][x % 2]);
}

std::string Canvas::row(std::size_t row) const {
  std::string out;
  for (std::size_t c = 0; c < columns_; ++c) {
    const unsigned dots = dots_[row * columns_ + c];
    if (dots == 0) {
      out += signs_[row * columns_ + c];
      continue;
    }
    out += '\xe2';  // U+2800 + dots in UTF-8
    out += static_cast<char>(0xa0U | (dots >> 6U));
    out += static_cast<char>(0x80U | (dots & 0x3fU));
  }
  return out;
}

}  // namespace airtally::report
