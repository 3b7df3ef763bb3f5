#pragma once
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/demand.hpp"
#include "study/pumps.hpp"

namespace airtally::report {

/// Which pump, as text for people, at most 80 columns wide: verdict, every pump's vacuums, times and current, what it
/// holds, its own pump's curve against the line, and the curve that would just do.
std::string pumps_text(const line::Line& line, const study::Pumps& pumps, const study::PumpAgainstLine& against,
                       const Look& look);

/// The smallest pump that does, and what a pump must give: in sentences, not yet broken into lines.
std::string pumps_verdict(const line::Line& line, const study::Pumps& pumps, const Look& look);

/// "the line's own pump" or "ejector", "the 'pump 12 V micro'".
std::string pump_named(const study::PumpTry& pump);
/// What to say behind "the curve" where the line's site is so high, or so low, that curves read otherwise there than on
/// their data sheets; else empty.
std::string pumps_on_sheet(const line::Line& line, const Look& look);

/// The same as JSON, format 1; docs/json.md lists the keys.
std::string pumps_json(const line::Line& line, const study::Pumps& pumps);

/// "holds", "marginal", "drops".
std::string_view word(study::Grasp grasp);

}  // namespace airtally::report
