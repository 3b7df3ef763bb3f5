#pragma once
#include <string>
#include <string_view>

namespace airtally::units {

/// `si` in the unit with as few digits as parse() reads as the very same double: exact(0.000125, "mm") is "0.125 mm".
/// Where no number of up to 15 digits is, in the unit of its dimension that is SI. Throws DomainError for a value
/// that is not finite, a unit that is not known, and a value that would need a unit of SI which there is none of.
std::string exact(double si, std::string_view unit_symbol);

}  // namespace airtally::units
