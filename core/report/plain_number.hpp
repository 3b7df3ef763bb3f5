#pragma once
#include <string>

namespace airtally::report {

/// A finite number to `digits` (1 to 15) significant digits without zeros behind the point, and without an exponent
/// however big it is: "250" and not "2.5e+02". A small one may have an exponent.
std::string plain_number(double number, int digits);

}  // namespace airtally::report
