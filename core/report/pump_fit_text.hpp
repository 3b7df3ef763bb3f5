#pragma once
#include <string>

#include "line/pump_readings.hpp"
#include "report/look.hpp"
#include "study/pump_fit.hpp"

namespace airtally::report {

/// A pump's curve from readings as text for people: what it is and how sure, and the entry to put into a catalogue.
std::string pump_fit_text(const line::PumpReadings& readings, const study::PumpFit& fit, const Look& look);

/// That entry, as TOML that a catalogue reads back: numbers of four digits of the largest, points that would be written
/// alike left out, tolerances of two standard deviations and, where these reach outside what an entry may be, a range.
/// A pump of more than 10,000 L/min, which no catalogue takes, has a comment instead.
std::string pump_entry(const line::PumpReadings& readings, const study::PumpFit& fit);

/// The fit as JSON, format 1; docs/json.md lists the keys.
std::string pump_fit_json(const line::PumpReadings& readings, const study::PumpFit& fit);

}  // namespace airtally::report
