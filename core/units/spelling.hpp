#pragma once
#include <string>
#include <string_view>

/// How a unit may be spelt, and how a text is quoted in a sentence.
namespace airtally::units {

/// The spelling that units are compared by: micro signs (both code points) as "u", degree signs as "deg", raised 2 and
/// 3 as "2" and "3", carets and brackets dropped, dots, stars and spaces between two units as one space. So
/// "dm³/(s·bar)", "dm^3/(s bar)" and "dm3 / ( s * bar )" all give "dm3/s bar".
std::string normal_form(std::string_view text);

/// ASCII letters in lower case, all else untouched, whatever the locale.
std::string lower_case(std::string_view text);

/// `text` between double quotes and fit for one line of an error: control characters as '?', cut to 60 bytes and "..."
/// where it is longer.
std::string quoted(std::string_view text);

}  // namespace airtally::units
