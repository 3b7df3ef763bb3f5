#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "units/parse.hpp"
#include "units/spelling.hpp"
#include "units/suggest.hpp"
#include "units/trimmed.hpp"
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

/// What a fraction such as "3/8 in" is as a decimal number with its unit; nothing for what is none. `before`: up to
/// where the unit should begin, "3"; `spelt`: what stands there, "/8 in".
std::optional<std::string> as_decimal(std::string_view before, std::string_view spelt) {
  constexpr std::string_view digits = "0123456789";
  const auto number = [](std::string_view text) {
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc() && end == text.data() + text.size() ? value : std::nan("");
  };
  if (!spelt.starts_with('/')) return std::nullopt;
  const std::size_t end = std::min(spelt.find_first_not_of(digits, 1), spelt.size());
  const std::string_view unit = trimmed(spelt.substr(end));
  before = trimmed(before);
  const std::size_t other = before.find_last_not_of(digits);
  const double value =
      number(before.substr(other == std::string_view::npos ? 0 : other + 1)) / number(spelt.substr(1, end - 1));
  if (!std::isfinite(value) || find_unit(unit) == nullptr) return std::nullopt;
  return fmt::format("{:.6g} {}", value, unit);
}

std::string in_single_quotes(std::string_view spelt) {
  const std::string text = quoted(spelt);
  return fmt::format("'{}'", std::string_view(text).substr(1, text.size() - 2));
}

}  // namespace

void refuse_unit(std::string_view text, std::size_t offset, std::string_view spelt, Dimension dimension) {
  const std::string unit = in_single_quotes(spelt);
  if (const auto decimal = as_decimal(text.substr(0, offset), spelt))
    throw UnitError(
        offset, fmt::format("{} is a fraction; write it as a decimal number, such as \"{}\".", quoted(text), *decimal));
  const Unit* pressure = unit_before_reference(spelt);
  if (pressure != nullptr && dimension == Dimension::pressure) {
    throw UnitError(
        offset,
        fmt::format("{}: {} says from where the pressure counts, but the key settles that: a vacuum down from the "
                    "room, as a gauge shows it, 'supply' and 'blow-off' up from the room, the pressure of a site up "
                    "from zero. Write that number with the unit '{}' alone.",
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
