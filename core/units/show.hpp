#pragma once
#include <string>
#include <string_view>

#include "units/dimension.hpp"
#include "units/unit.hpp"

/// SI values to text for people: a decimal point whatever the locale, never "-0", and DomainError for a value that is
/// not finite or a unit that is not known.
namespace airtally::units {

/// `si` in the unit with `decimals` (0 to 15) places: show(0.0042, "mm", 1) is "4.2 mm".
std::string show(double si, std::string_view unit_symbol, int decimals);
/// The same for a unit that was looked up before.
std::string show(double si, const Unit& unit, int decimals);

/// `si` in the unit rounded to `digits` (1 to 15) significant digits: show_significant(0.0042, "mm", 3) is "4.20 mm".
/// Below 1e-6 and from 1e15 up in that unit it is written with an exponent.
std::string show_significant(double si, std::string_view unit_symbol, int digits);
/// The same for a unit that was looked up before.
std::string show_significant(double si, const Unit& unit, int digits);

/// `si` with `digits` significant digits in the unit that makes it easiest to read: 35e-6 as a length is "35 um", not
/// "0.000035 m"; a flow below 0.1 L/min is shown in mL/min. Zero is shown as "0" and the first unit of its dimension;
/// `digits` 1 to 15.
std::string show_fitting(double si, Dimension dimension, int digits);

}  // namespace airtally::units
