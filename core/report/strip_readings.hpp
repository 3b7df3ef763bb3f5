#pragma once
#include <optional>
#include <string>

#include "hunt/readings/beside.hpp"
#include "report/look.hpp"

namespace airtally::report {

/// A reading that can only be wrong itself.
struct Misread {
  std::size_t reading = 0;  ///< an index into BesideAll::list
  std::size_t against = 0;  ///< readings of the same instrument that speak against it, 1 or more
};

/// Whether the step that surprises most (else the one that spares most) is a misread number: its element is on the line
/// in other steps too, which the same instrument reads as the file says, to a quarter of what would show of it there.
/// None: there is no such step, or another step confirms it.
std::optional<Misread> misread_of(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all);

/// What was read beside what the removal test predicts, step by step, at most 80 columns wide. `readings`: their file,
/// for the command that comes next; empty: where the first of them stands, else a word for it.
std::string strip_readings_text(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all,
                                const Look& look, const std::string& readings = {});
/// The strip's JSON with `measured`; docs/json.md lists the keys.
std::string strip_readings_json(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all);

}  // namespace airtally::report
