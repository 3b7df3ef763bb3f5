#include "read/height.hpp"

#include <fmt/format.h>

#include "units/parse.hpp"
#include "units/trimmed.hpp"
#include "units/unit.hpp"

namespace airtally::read {

std::optional<std::string> height_slip(std::string_view text) {
  constexpr double foot = 0.3048;  // [m], the smallest that heights are said in
  try {
    if (units::parse(text, units::Dimension::length).value == 0.0) return std::nullopt;
  } catch (const units::UnitError&) {
    return std::nullopt;
  }
  const std::size_t number_ends = text.find_last_of("0123456789.") + 1;
  const units::Unit* unit = units::find_unit(text.substr(number_ends), units::Dimension::length);
  if (unit == nullptr || units::to_si(1.0, *unit) > 0.999 * foot) return std::nullopt;
  return fmt::format("{} can't be meant: a height above the sea is said in m, km or ft, such as \"340 m\".",
                     units::trimmed(text));
}

}  // namespace airtally::read
