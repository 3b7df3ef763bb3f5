#pragma once
#include <string>

#include "line/element.hpp"

/// What every answer says of a valve that cuts a tip off from what pulls.
namespace airtally::report {

/// "The valve is closed", "Valve 2 lets air in (vent)".
std::string stands_shut(const line::Element& valve);

/// What to do about it, a sentence.
std::string open_it(const line::Element& valve);

/// Vacuum at or below this is none: what is left of it comes from rounding, or stood there before [Pa].
inline constexpr double no_vacuum_to_speak_of = 1.0;

}  // namespace airtally::report
