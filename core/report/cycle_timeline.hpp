#pragma once
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/cycle.hpp"

namespace airtally::report {

/// Milliseconds, the unit of picks: whole ones, tenths where the cycle is shorter than a second.
Scale cycle_scale(const study::CycleAnswer& answer);

/// Everything that happens in a cycle, in the order of time, a row each: what the schedule does, and what the line
/// answers (the safe lift, the moment when the part is let go). Heads that do the same at the same time share a row.
std::string cycle_timeline(const line::Line& line, const study::CycleAnswer& answer, const Look& look);

}  // namespace airtally::report
