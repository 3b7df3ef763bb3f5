#include "units/unit.hpp"

#include "units/spelling.hpp"

namespace airtally::units {
namespace {

// `wanted` is in normal form.
bool spells(const Unit& unit, std::string_view wanted) {
  if (normal_form(unit.symbol) == wanted) return true;
  std::string_view rest = unit.aliases;
  while (!rest.empty()) {
    const auto bar = rest.find('|');
    if (rest.substr(0, bar) == wanted) return true;
    rest = bar == std::string_view::npos ? std::string_view{} : rest.substr(bar + 1);
  }
  return false;
}

const Unit* find_in(std::span<const Unit> units, std::string_view text) {
  const std::string wanted = normal_form(text);
  for (const Unit& unit : units) {
    if (spells(unit, wanted)) return &unit;
  }
  return nullptr;
}

}  // namespace

const Unit* find_unit(std::string_view text, Dimension dimension) { return find_in(units_of(dimension), text); }
const Unit* find_unit(std::string_view text) { return find_in(all_units(), text); }

double to_si(double number, const Unit& unit) { return (number + unit.shift) * unit.numerator / unit.denominator; }

double from_si(double si, const Unit& unit) { return si * unit.denominator / unit.numerator - unit.shift; }

double difference_to_si(double number, const Unit& unit) { return number * unit.numerator / unit.denominator; }

}  // namespace airtally::units
