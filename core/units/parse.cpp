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

std::optional<std::string> same_number_within(std::string_view text, Dimension dimension, double low, double high) {
  Scan parts;
  try {
    parts = scan(text, dimension);
  } catch (const UnitError&) {
    return std::nullopt;
  }
  if (parts.joint != Joint::none || find_unit(parts.first.unit, dimension) == nullptr) return std::nullopt;
  for (const Unit& unit : units_of(dimension)) {
    const double si = to_si(parts.first.number, unit);
    if (!unit.symbol.empty() && si >= low && si <= high) return fmt::format("{} {}", parts.first.digits, unit.symbol);
  }
  return std::nullopt;
}

}  // namespace airtally::units
