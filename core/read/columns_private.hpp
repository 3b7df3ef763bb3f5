#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "units/unit.hpp"

/// Tables of text whose first row names the columns with their units: what the files that read them share.
namespace airtally::read {

struct Cell {
  std::string_view text;
  int column = 0;  ///< of its first character, from 1
};

/// Without blanks and quotes at both ends.
std::string_view bare(std::string_view text);
/// Tab, semicolon or comma, whichever the row has, in this order.
char separator_of(std::string_view row);
std::vector<Cell> cells_of(std::string_view row, char separator);
/// What is wrong with a row that has more values than the first row names columns: "0,1,50,2" for 0.1 and 50.2 would be
/// read as other numbers. None: nothing. Empty cells at the end don't count.
struct ExtraCell {
  int column = 0;  ///< of the first that is too many
  std::string sentence;
};
std::optional<ExtraCell> extra_cell(const std::vector<Cell>& cells, std::size_t columns, char separator);
std::string lower(std::string_view text);
/// The unit that a column's name ends in: "[ms]", "(ms)", "_ms", "/ms", " ms".
const units::Unit* unit_in(std::string_view name);
/// The finite number that the text is, if it is one.
std::optional<double> number_in(std::string_view text, bool decimal_comma);
/// What one more in its last digit would add to such a number: 0.1 for "60.0", 1000 for "2e3".
double last_digit_of(std::string_view text, bool decimal_comma);

}  // namespace airtally::read
