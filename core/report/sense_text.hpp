#pragma once
#include <string>

#include "line/line.hpp"
#include "report/look.hpp"
#include "study/sense.hpp"

namespace airtally::report {

/// Whether the sensor tells, as text for people, at most 80 columns wide: verdict, states along the chain, noise, front
/// ends, places; of a switch verdict, where to set it, states, noise, places.
std::string sense_text(const line::Line& line, const study::Sense& sense, const Look& look);

/// The same as JSON, format 1; docs/json.md lists the keys.
std::string sense_json(const line::Line& line, const study::Sense& sense);

/// A small probability 0 to 1 in words: "never in a billion", "12 times in a million", "0.4 % of the time".
std::string odds(double probability);

}  // namespace airtally::report
