#include <fmt/format.h>

#include <array>
#include <string>
#include <vector>

#include "units/parse.hpp"
#include "units/spelling.hpp"
#include "units/suggest.hpp"
#include "units/unit.hpp"
#include "units/unit_error_private.hpp"

namespace airtally::units {
namespace {

// "kPa abs", "kPa(a)", "barg", "psia": the pressure unit in front of the word, or nullptr.
const Unit* unit_before_reference(std::string_view spelt) {
  constexpr std::array<std::string_view, 11> words{"absolute", "abs", "gauge", "gage", "vacuum", "vac",
                                                   "relative", "rel", "a",     "g",    "v"};
  const std::string plain = normal_form(spelt);
  for (const std::string_view word : words) {
    if (!lower_case(plain).ends_with(word)) continue;
    const std::string_view front = std::string_view(plain).substr(0, plain.size() - word.size());
    if (const Unit* unit = find_unit(front, Dimension::pressure)) return unit;
  }
  return nullptr;
}

std::string allowed(Dimension dimension) {
  std::string list;
  for (const Unit& unit : units_of(dimension)) {
    if (unit.symbol.empty()) continue;
    if (!list.empty()) list += ", ";
    list += unit.symbol;
  }
  return list;
}

std::string did_you_mean(std::string_view spelt, Dimension dimension) {
  if (dimension == Dimension::flow && lower_case(normal_form(spelt)) == "lpm") return " Did you mean 'L/min'?";
  std::vector<std::string_view> symbols;
  for (const Unit& unit : units_of(dimension)) {
    if (!unit.symbol.empty()) symbols.push_back(unit.symbol);
  }
  const auto near = nearest(normal_form(spelt), symbols);
  return near ? fmt::format(" Did you mean '{}'?", *near) : std::string();
}

std::string in_single_quotes(std::string_view spelt) {
  const std::string text = quoted(spelt);
  return fmt::format("'{}'", std::string_view(text).substr(1, text.size() - 2));
}

}  // namespace

void refuse_unit(std::string_view text, std::size_t offset, std::string_view spelt, Dimension dimension) {
  const std::string unit = in_single_quotes(spelt);
  const Unit* pressure = unit_before_reference(spelt);
  if (pressure != nullptr && dimension == Dimension::pressure) {
    throw UnitError(
        offset,
        fmt::format("{}: {} says from where the pressure counts, but that is settled by the key: a vacuum counts "
                    "down from ambient, as a gauge shows it, and the pressure of a site counts up from zero "
                    "(absolute). Write the number that the key asks for with the unit '{}' alone.",
                    quoted(text), unit, pressure->symbol));
  }
  if (const Unit* other = find_unit(spelt)) {
    throw UnitError(offset,
                    fmt::format("{}: {} measures {}, but {} is needed here, such as \"{}\".", quoted(text), unit,
                                name_of(other->dimension), name_with_article(dimension), example_of(dimension)));
  }
  if (dimension == Dimension::number) {
    throw UnitError(offset, fmt::format("{}: {} is not a unit that airtally knows, and a plain number is needed here, "
                                        "such as \"0.35\" or \"35 %\".",
                                        quoted(text), unit));
  }
  throw UnitError(offset, fmt::format("{}: {} is not a unit of {} that airtally knows. Allowed: {}.{}", quoted(text),
                                      unit, name_of(dimension), allowed(dimension), did_you_mean(spelt, dimension)));
}

}  // namespace airtally::units
