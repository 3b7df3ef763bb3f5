#pragma once
#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

#include "units/dimension.hpp"
#include "units/quantity.hpp"

namespace airtally::units {

/// A text that is no quantity of the dimension asked for. what() is a sentence for the person who wrote it.
class UnitError : public std::runtime_error {
 public:
  /// `where`: the offset below. `sentence`: what is wrong, what was given and what to write.
  UnitError(std::size_t where, const std::string& sentence) : std::runtime_error(sentence), offset(where) {}
  std::size_t offset;  ///< byte of the text, from 0, where the trouble is; the text's length where something is missing
};

/// Reads a quantity with its unit, in SI. Understood, whatever the locale:
///
///   "4 mm"  "4mm"  "-5 C"  "1e-3 m"  "1 3/8 in"             exact
///   "35 um ± 5 um"  "35 ± 5 um"  "35+-5 um"  "35 um ± 10 %"  normal, the tolerance two standard deviations
///   "20..45 um"  "20 um..45 um"                             anywhere between
///
/// A unit is required unless `dimension` is a plain number. Throws UnitError for a text that is none of these, a unit
/// of something else, a negative tolerance, a range that falls, and a size beyond a double.
Quantity parse(std::string_view text, Dimension dimension);

/// For a value outside its limits: the same number with another unit that falls between `low` and `high` [SI], as in
/// "6 mm" for "6 m"; the unit first in its table when there are several, nothing when there is none or when `text` has
/// a tolerance or a range, or is no quantity of the dimension. Only units that differ by a prefix are taken for each
/// other, and those of temperature.
std::optional<std::string> same_number_within(std::string_view text, Dimension dimension, double low, double high);

/// The limits `low` to `high` [SI] in the unit that `text` is written with, to four digits and rounded inwards, as in
/// "0 inHg .. 29.92 inHg"; nothing for a unit that differs from the first of its dimension by a prefix at most, and as
/// above.
std::optional<std::string> range_in_its_unit(std::string_view text, Dimension dimension, double low, double high);

}  // namespace airtally::units
