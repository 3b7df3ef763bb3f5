#include "units/parse.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "units/scan_private.hpp"
#include "units/spelling.hpp"
#include "units/unit.hpp"
#include "units/unit_error_private.hpp"

namespace airtally::units {
namespace {

// Second half: what the parts of a text mean in SI.
class Meaning {
 public:
  Meaning(std::string_view text, Dimension dimension) : text_(text), dimension_(dimension) {}

  Quantity of(const Scan& scan) const {
    if (scan.joint == Joint::none) return Quantity(si(scan.first, unit_of(scan.first)));
    return scan.joint == Joint::range ? range(scan.first, scan.second) : tolerance(scan.first, scan.second);
  }

 private:
  template <typename... Args>
  [[noreturn]] void fail(std::size_t offset, fmt::format_string<Args...> sentence, Args&&... args) const {
    throw UnitError(offset, fmt::format(sentence, std::forward<Args>(args)...));
  }

  const Unit& unit_of(const Part& part) const {
    if (part.unit.empty() && dimension_ != Dimension::number) {
      fail(part.number_at, "{} is a bare number; say its unit, such as \"{}\".", quoted(text_), example_of(dimension_));
    }
    const Unit* unit = find_unit(part.unit, dimension_);
    if (unit == nullptr) refuse_unit(text_, part.unit_at, part.unit, dimension_);
    return *unit;
  }

  double si(const Part& part, const Unit& unit) const {
    const double value = to_si(part.number, unit);
    const bool vanished = value == 0.0 && part.number != 0.0 && unit.shift == 0.0;
    if (!std::isfinite(value) || vanished) refuse_size(part.number_at);
    return value;
  }

  Quantity range(Part first, const Part& second) const {
    if (second.unit.empty() && !first.unit.empty()) {
      fail(second.number_at, "{}: say the unit behind the second number, as in \"20..45 um\".", quoted(text_));
    }
    if (first.unit.empty() && !second.unit.empty()) first.unit = second.unit, first.unit_at = second.unit_at;
    const double low = si(first, unit_of(first));
    const double high = si(second, unit_of(second));
    if (low > high) {
      fail(first.number_at, "{} runs from the larger to the smaller; write the smaller number first.", quoted(text_));
    }
    if (!std::isfinite(high - low)) refuse_size(first.number_at);
    return Quantity::uniform(low, high);
  }

  Quantity tolerance(Part first, const Part& second) const {
    if (second.number < 0.0) {
      fail(second.number_at, "{} has a negative tolerance; write it without the minus.", quoted(text_));
    }
    if (second.unit == "%") return relative(first, second);
    if (second.unit.empty() && !first.unit.empty()) {
      fail(second.number_at, "{}: say the unit behind the tolerance too, as in \"35 um ± 5 um\" or \"35 um ± 10 %\".",
           quoted(text_));
    }
    if (first.unit.empty() && !second.unit.empty()) first.unit = second.unit, first.unit_at = second.unit_at;
    return spread(first, difference_to_si(second.number, unit_of(second)), second);
  }

  Quantity relative(const Part& first, const Part& second) const {
    if (first.unit == "%" && dimension_ == Dimension::number) {
      fail(second.unit_at, "{} can be read in two ways; write both as plain numbers, as in \"0.10 ± 0.02\".",
           quoted(text_));
    }
    if (dimension_ == Dimension::temperature) {
      fail(second.unit_at,
           "{}: a temperature has no zero that a percentage could count from; write its tolerance in "
           "degrees, as in \"21 C ± 2 C\".",
           quoted(text_));
    }
    return spread(first, std::abs(si(first, unit_of(first))) * second.number / 100.0, second);
  }

  Quantity spread(const Part& first, double width, const Part& second) const {
    const double value = si(first, unit_of(first));
    if (!std::isfinite(value - width) || !std::isfinite(value + width)) refuse_size(second.number_at);
    return Quantity::normal(value, width);
  }

  [[noreturn]] void refuse_size(std::size_t offset) const {
    fail(offset, "{} is too large or too small for a number.", quoted(text_));
  }

  std::string_view text_;
  Dimension dimension_;
};

}  // namespace

Quantity parse(std::string_view text, Dimension dimension) {
  return Meaning(text, dimension).of(scan(text, dimension));
}

namespace {

/// The number and the unit of a text that is one number with a unit of the dimension; the unit is nullptr for others.
std::pair<Part, const Unit*> plain_quantity(std::string_view text, Dimension dimension) {
  try {
    const Scan parts = scan(text, dimension);
    if (parts.joint == Joint::none) return {parts.first, find_unit(parts.first.unit, dimension)};
  } catch (const UnitError&) {  // no number stands in front
  }
  return {};
}

/// A unit's symbol without its prefix: "Pa" of "kPa" and of "Pa", "inHg" of "inHg".
std::string_view without_prefix(const Unit& unit) {
  if (unit.symbol.size() < 2 || std::string_view("GMkhdcmun").find(unit.symbol.front()) == std::string_view::npos)
    return unit.symbol;
  const std::string_view rest = unit.symbol.substr(1);
  for (const Unit& other : units_of(unit.dimension))
    if (other.symbol == rest) return rest;
  return unit.symbol;
}

bool one_family(const Unit& a, const Unit& b) {
  return a.dimension == Dimension::temperature || without_prefix(a) == without_prefix(b);
}

}  // namespace

std::optional<std::string> same_number_within(std::string_view text, Dimension dimension, double low, double high) {
  const auto [part, written] = plain_quantity(text, dimension);
  if (written == nullptr) return std::nullopt;
  for (const Unit& unit : units_of(dimension)) {
    const double si = to_si(part.number, unit);
    if (!unit.symbol.empty() && one_family(unit, *written) && si >= low && si <= high)
      return fmt::format("{} {}", part.digits, unit.symbol);
  }
  return std::nullopt;
}

std::optional<std::string> range_in_its_unit(std::string_view text, Dimension dimension, double low, double high) {
  const Unit* unit = plain_quantity(text, dimension).second;
  if (unit == nullptr || one_family(*unit, units_of(dimension).front())) return std::nullopt;
  const auto end = [unit](double si, double inwards) {
    const double number = from_si(si, *unit);
    if (number == 0.0) return fmt::format("0 {}", unit->symbol);
    const double step = std::pow(10.0, std::floor(std::log10(std::abs(number))) - 3.0);
    const double whole = number / step, near = std::round(whole);
    const bool exact = std::abs(whole - near) < 1e-9 * std::abs(whole);
    const double taken = exact ? near : inwards > 0.0 ? std::ceil(whole) : std::floor(whole);
    return step >= 1.0 ? fmt::format("{:.0f} {}", taken * step, unit->symbol)
                       : fmt::format("{:.4g} {}", taken * step, unit->symbol);
  };
  return fmt::format("{} .. {}", end(low, 1.0), end(high, -1.0));
}

}  // namespace airtally::units
