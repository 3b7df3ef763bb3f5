#pragma once
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/cycle.hpp"

namespace airtally::report {

/// One pick as text for people, at most 80 columns wide: when it may lift and what holds that up, the time line, the
/// curve, every head's times and margins, cautions.
std::string cycle_text(const line::Line& line, const study::CycleAnswer& answer, const Look& look);

/// Least by which something must let the slowest head lift sooner to be told to people [s]: a hundredth of its moment.
double least_gain(const study::CycleAnswer& answer);

/// The whole answer as JSON, format 1; docs/json.md lists the keys.
std::string cycle_json(const line::Line& line, const study::CycleAnswer& answer);

}  // namespace airtally::report
