#pragma once
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/strip.hpp"

/// Words of the removal test that its table and its bench sheet share.
namespace airtally::report {

/// The instrument that judges: "the gauge at the tee", "the ammeter of the pump", "a gauge at the pump" where it was
/// assumed.
std::string judging(const line::Line& line, const study::Strip& strip);

/// Of a strip without a culprit: that no step is big enough for that instrument, how big it would have to be and which
/// is the biggest, and where the air comes in by the file. Begins in lower case and ends with a full stop.
std::string nothing_shows(const line::Line& line, const study::Strip& strip, const Look& look);

}  // namespace airtally::report
