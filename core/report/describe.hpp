#pragma once
#include <string>

#include "line/line.hpp"
#include "units/dimension.hpp"

/// What a line file said, in words.
namespace airtally::report {

/// "4 mm", "35 um +- 5 um", "20 to 45 um": a value as one would say it, with what is known of its uncertainty. `ascii`:
/// here as below nothing but ASCII, save for names. Throws DomainError for a value that is not finite.
std::string said(const units::Quantity& quantity, units::Dimension dimension, bool ascii = false);

/// "tube, bore 4 mm, 800 mm long; leaks: a hole of 80 um". The kind, what it does to the air, what it carries.
std::string described(const line::Element& element, bool ascii = false);

/// "cap jewel, 12 mg, 4 um above the rim".
std::string described(const line::Part& part, bool ascii = false);

}  // namespace airtally::report
