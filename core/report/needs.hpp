#pragma once
#include <span>
#include <string>

#include "report/look.hpp"

/// Words for what nozzles need, which is the same for all of them unless they are of unequal size.
namespace airtally::report {

/// "27.0 kPa at the tip", "0.09 kPa to 4.20 kPa at the tips". `needs`: one per nozzle [Pa], one at least.
std::string needs_at_tips(std::span<const double> needs, const Look& look);
/// What is waited for, up to the word that says by whom: "the tip has the 27.0 kPa that", "every tip has its own of the
/// 0.09 kPa to 4.20 kPa that". `needs` as above.
std::string until_needs(std::span<const double> needs, const Look& look);

}  // namespace airtally::report
