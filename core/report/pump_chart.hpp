#pragma once
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/demand.hpp"

namespace airtally::report {

/// The pump's curve and what the line takes, as a chart for the terminal under a heading; "" for a line that takes next
/// to nothing in every state. The points where they meet follow in a sentence.
std::string pump_chart(const line::Line& line, const study::PumpAgainstLine& against, const Look& look);

}  // namespace airtally::report
