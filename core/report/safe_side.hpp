#pragma once
#include <string>

#include "report/look.hpp"
#include "units/dimension.hpp"

/// Figures that are limits. Rounded as other numbers are, every second one would promise a little more than there is: a
/// person who sets the machine to what is printed must be on the safe side of it.
namespace airtally::report {

/// A figure [SI] that may be used up, such as the heaviest part: three digits, never above it.
std::string no_more_than(double si, units::Dimension dimension);
/// The same in a unit that is given.
std::string no_more_than(double si, units::Dimension dimension, const std::string& unit);
/// A figure [SI] that must be reached, such as the moment from which on it is safe: three digits, never below it.
std::string no_less_than(double si, units::Dimension dimension);
/// The same with the decimals of a scale of that dimension, and without its unit.
std::string no_less_than(double si, units::Dimension dimension, const Scale& scale);

}  // namespace airtally::report
