#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "read/columns_private.hpp"
#include "units/trimmed.hpp"

namespace airtally::read {

std::string_view bare(std::string_view text) { return units::trimmed(text, " \t\r\""); }

char separator_of(std::string_view row) {
  return row.find('\t') != row.npos ? '\t' : row.find(';') != row.npos ? ';' : ',';
}

std::vector<Cell> cells_of(std::string_view row, char separator) {
  std::vector<Cell> cells;
  for (std::size_t begin = 0; begin <= row.size();) {
    const std::size_t end = std::min(row.find(separator, begin), row.size());
    const std::string_view cell = bare(row.substr(begin, end - begin));
    const std::size_t at = cell.empty() ? begin : static_cast<std::size_t>(cell.data() - row.data());
    cells.push_back({cell, static_cast<int>(at) + 1});
    begin = end + 1;
  }
  return cells;
}

std::optional<ExtraCell> extra_cell(const std::vector<Cell>& cells, std::size_t columns, char separator) {
  for (std::size_t i = columns; i < cells.size(); ++i) {
    if (bare(cells[i].text).empty()) continue;
    return ExtraCell{
        cells[i].column,
        fmt::format("this row has {} values and the first row names {} {}; name every column{}.", cells.size(), columns,
                    columns == 1 ? "column" : "columns",
                    separator == ',' ? ", and write decimals with a point, or semicolons between values" : "")};
  }
  return std::nullopt;
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

const units::Unit* unit_in(std::string_view name) {
  if (name.empty()) return nullptr;
  const char last = name.back();
  std::size_t begin = std::string_view::npos;
  if (last == ']' || last == ')') {
    begin = name.rfind(last == ']' ? '[' : '(');
    if (begin == std::string_view::npos) return nullptr;
    return units::find_unit(bare(name.substr(begin + 1, name.size() - begin - 2)));
  }
  begin = name.find_last_of("_/ ");
  return begin == std::string_view::npos ? nullptr : units::find_unit(bare(name.substr(begin + 1)));
}

std::optional<double> number_in(std::string_view text, bool decimal_comma) {
  std::string plain(text);
  if (decimal_comma) std::replace(plain.begin(), plain.end(), ',', '.');
  const char* begin = plain.data();
  const char* const end = begin + plain.size();
  if (begin != end && *begin == '+') ++begin;
  double value = 0.0;
  const auto [stop, error] = std::from_chars(begin, end, value);
  if (error != std::errc{} || stop != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

double last_digit_of(std::string_view text, bool decimal_comma) {
  const std::size_t power_at = std::min(text.find_first_of("eE"), text.size());
  const std::size_t point = text.substr(0, power_at).find_first_of(decimal_comma ? ".," : ".");
  const double places = point == std::string_view::npos ? 0.0 : static_cast<double>(power_at - point - 1);
  const double power = power_at < text.size() ? number_in(text.substr(power_at + 1), false).value_or(0.0) : 0.0;
  return std::pow(10.0, power - places);
}

}  // namespace airtally::read
