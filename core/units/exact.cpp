#include "units/exact.hpp"

#include <fmt/format.h>

#include "errors.hpp"
#include "units/parse.hpp"
#include "units/show.hpp"
#include "units/unit.hpp"

namespace airtally::units {

std::string exact(double si, std::string_view unit_symbol) {
  constexpr int digits_of_any_number = 15;  // that was typed with as many survive the way to a double and back
  for (int digits = 1; digits <= digits_of_any_number; ++digits)
    if (std::string text = show_significant(si, unit_symbol, digits);
        parse(text, find_unit(unit_symbol)->dimension).value == si)
      return text;
  for (const Unit& unit : units_of(find_unit(unit_symbol)->dimension))
    if (unit.numerator == unit.denominator && unit.shift == 0.0) return fmt::format("{} {}", si, unit.symbol);
  throw DomainError(fmt::format("exact: {} has no unit of SI in the table.", unit_symbol));
}

}  // namespace airtally::units
