#pragma once
#include <optional>

#include "report/page/findings.hpp"
#include "report/page/picture.hpp"

/// The pictures of a page, each from the same objects as the command that answers in text.
namespace airtally::report::page {

/// The line with graphic symbols after ISO 1219-1, laid out along the flow, leaks as arrows.
Picture schematic(const Findings& found, const Units& units);
/// Vacuum along the way from the source to one tip (an index into the nozzles), for every state of the tips, with the
/// removal test's readings.
Picture staircase(const Findings& found, std::size_t nozzle, const Units& units);
/// What the tip has, and how the elements' fair shares add up to what it lacks.
Picture shares(const Findings& found, const Units& units);
/// Leak, gains and time of every element, as bars.
Picture costs(const Findings& found, const Units& units);
/// The pull-down at tip, gauges and pump.
Picture rise_curve(const Findings& found, const Units& units);
/// The pull-down beside a measured log.
Picture log_curve(const Findings& found, const Units& units);
/// One pick.
Picture cycle_curve(const Findings& found, const Units& units);
/// The first source's curve and what the line takes, in every state of the tips; spare pumps greyed.
Picture pump_and_line(const Findings& found, const Units& units);
/// What the sensor reads with and without a part, and the threshold.
Picture sensing(const Findings& found, const Units& units);
/// What a placement costs over the joint's clearance or leak, and what the twisted tube costs. The page has it where
/// that curve is one.
std::optional<Picture> joint_or_tube(const Findings& found, const Units& units);
/// Every way of letting the spindle turn, and what each lacks: the numbers of that picture, and all there is without
/// it.
DataTable joint_ways(const study::Joint& joint);
/// Where the line forks: what the judging instrument of the removal test reads with each branch off by itself.
DataTable branch_readings(const line::Line& line, const study::Strip& strip);
/// Which part holds on which nozzle, with the line's own pump.
Picture parts_by_nozzles(const Findings& found, const Units& units);
/// Vacuum, free flow and time to the lift of every pump in the place of the line's own.
Picture pump_choice(const Findings& found, const Units& units);
/// Leak of every element as the readings leave it, and who is worst.
Picture suspects(const Findings& found, const Units& units);

}  // namespace airtally::report::page
