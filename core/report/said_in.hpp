#pragma once
#include <string>
#include <string_view>

#include "report/look.hpp"

namespace airtally::report {

/// A sentence of study or hunt, which say every pressure in kPa, for a person: each "12.3 kPa" in the look's unit, with
/// as many decimals as the rounding to kPa left it. What stands in quotes, a name or what to write into a file, stays
/// as it is.
std::string said_in(const Look& look, std::string_view sentence);

}  // namespace airtally::report
