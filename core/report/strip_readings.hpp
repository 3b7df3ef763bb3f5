#pragma once
#include <string>

#include "hunt/readings/beside.hpp"
#include "report/look.hpp"

namespace airtally::report {

/// What was read beside what the removal test predicts, step by step, at most 80 columns wide.
std::string strip_readings_text(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all,
                                const Look& look);
/// The strip's JSON with `measured`; docs/json.md lists the keys.
std::string strip_readings_json(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all);

}  // namespace airtally::report
