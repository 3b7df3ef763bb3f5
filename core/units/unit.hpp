#pragma once
#include <span>
#include <string>
#include <string_view>

#include "units/dimension.hpp"

namespace airtally::units {

/// One unit of one dimension: SI value = (number + shift) * numerator / denominator. The factor is kept as a fraction
/// so that "35 um" becomes 35 / 1e6, which is the very double that 35e-6 is.
struct Unit {
  Dimension dimension;       ///< what it measures
  std::string_view symbol;   ///< the spelling that airtally prints; empty for a plain number
  std::string_view aliases;  ///< other spellings in normal form (spelling.hpp), separated by '|'
  double numerator;          ///< of the factor to SI [SI unit per unit] > 0
  double denominator = 1.0;  ///< of the same factor [-] > 0
  double shift = 0.0;        ///< in this unit; only temperatures have one
};

/// All units, grouped by dimension, the preferred one of each dimension first. Sources stand beside the table.
std::span<const Unit> all_units();

/// The units of one dimension, never none; the preferred one first.
std::span<const Unit> units_of(Dimension dimension);

/// The unit of that dimension spelt `text`, forgiving about spaces, dots, carets, brackets and the code point of the
/// micro sign, strict about upper and lower case; nullptr if there is none.
const Unit* find_unit(std::string_view text, Dimension dimension);

/// The unit whose symbol or alias is `text`, of whatever dimension; where two share a symbol ("g"), the mass. nullptr
/// if there is none.
const Unit* find_unit(std::string_view text);

/// A number of that unit in SI, a temperature's shift included.
double to_si(double number, const Unit& unit);

/// An SI value as a number of that unit.
double from_si(double si, const Unit& unit);

/// A difference (a tolerance, a step) of that unit in SI: no shift.
double difference_to_si(double number, const Unit& unit);

}  // namespace airtally::units
