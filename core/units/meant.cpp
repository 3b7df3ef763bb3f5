#include "units/meant.hpp"

#include <algorithm>
#include <optional>
#include <vector>

#include "units/parse.hpp"
#include "units/spelling.hpp"
#include "units/suggest.hpp"
#include "units/unit.hpp"

namespace airtally::units {
namespace {

/// Where the text is no quantity of the dimension; none: it is one.
std::optional<std::size_t> trouble_at(std::string_view text, Dimension dimension) {
  try {
    parse(text, dimension);
    return std::nullopt;
  } catch (const UnitError& error) {
    return error.offset;
  }
}

}  // namespace

std::size_t meant(std::string_view text, std::span<const Dimension> choices) {
  std::vector<std::string_view> symbols;
  std::vector<std::size_t> whose;
  std::string_view spelt;
  for (std::size_t k = 0; k < choices.size(); ++k) {
    const auto at = trouble_at(text, choices[k]);
    if (!at) return k;
    spelt = text.substr(std::min(*at, text.size()));
    for (const Unit& unit : units_of(choices[k])) {
      symbols.push_back(unit.symbol);
      whose.push_back(k);
    }
  }
  const auto near = nearest(normal_form(spelt), symbols);
  return near ? whose[static_cast<std::size_t>(std::find(symbols.begin(), symbols.end(), *near) - symbols.begin())] : 0;
}

}  // namespace airtally::units
