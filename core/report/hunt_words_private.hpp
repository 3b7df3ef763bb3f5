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
/// The same; three or more that are alike, if they are all among them, as one: "needle 1 to needle 24".
std::vector<std::string> names(const line::Line& line, const hunt::Hunt& hunt,
                               const std::vector<std::size_t>& elements);
/// The elements that stand in one row with this one, itself among them.
std::vector<std::size_t> told_as_one(const hunt::Hunt& hunt, std::size_t element);
/// What was done to the line in a setting: "with all tips blocked", "capped behind the filter", "without hose 1".
std::string setting_phrase(const line::Line& line, const hunt::Setting& setting);
/// The reading that is worse than the file has it, where nothing else says that anything is; "" where none is.
std::string missed_sentence(const line::Line& line, const hunt::Hunt& hunt, const Look& look);
/// The reading that is better than the file has it, and what leaks less; "" where none is.
std::string spare_sentence(const line::Line& line, const hunt::Hunt& hunt, const Look& look);
/// Of such a row: "needle 1 to needle 24"; of one alone its name.
std::string group_name(const line::Line& line, const std::vector<std::size_t>& group);

}  // namespace airtally::report
