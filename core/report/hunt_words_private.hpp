#pragma once
#include <string>
#include <vector>

#include "hunt/hunt.hpp"
#include "line/line.hpp"
#include "report/look.hpp"

namespace airtally::report {

/// What an instrument shows [Pa, A or kg/s] as it is told: "54.3 kPa".
std::string value(hunt::Instrument instrument, double si, const Look& look);
/// "97 %", "over 99 %"
std::string percent(double share);
/// "the valve", "the filter" and so on, in the order given.
std::vector<std::string> names(const line::Line& line, const std::vector<std::size_t>& elements);

}  // namespace airtally::report
