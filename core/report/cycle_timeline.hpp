#pragma once
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/cycle.hpp"

namespace airtally::report {

/// Milliseconds, the unit of picks: tenths, whole ones where the cycle is longer than ten seconds.
Scale cycle_scale(const study::CycleAnswer& answer);

/// A moment [s] from which on something is safe, with its unit: as the tables have it, and never before it.
std::string safe_moment(const study::CycleAnswer& answer, double time);
/// A moment of a head [s] as the tables have it, without its unit: where it is one of its safe moments never before it,
/// else as it is rounded.
std::string moment_of(const study::CycleAnswer& answer, const study::HeadCycle& head, double time);
/// Whether the head has the vacuum, safety and all, to take its part up when it lifts or later; else nothing is lifted,
/// put down and let go.
bool takes_up(const study::HeadCycle& head);
/// What the head may do from its safe lift on: "lift", or "lift and travel" where it then has what both need.
std::string lift_words(const study::HeadCycle& head);

/// Everything that happens in a cycle, in the order of time, a row each: what the schedule does, and what the line
/// answers (the safe lift, the moment when the part is let go). Heads that do the same at the same time share a row.
std::string cycle_timeline(const line::Line& line, const study::CycleAnswer& answer, const Look& look);

}  // namespace airtally::report
