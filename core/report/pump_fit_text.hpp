#pragma once
#include <string>

#include "line/pump_readings.hpp"
#include "report/look.hpp"
#include "study/pump_fit.hpp"

namespace airtally::report {

/// A pump's curve from readings as text for people: what it is and how sure, and the entry to put into a catalogue.
std::string pump_fit_text(const line::PumpReadings& readings, const study::PumpFit& fit, const Look& look);

/// The same as JSON, format 1; docs/json.md lists the keys.
std::string pump_fit_json(const line::PumpReadings& readings, const study::PumpFit& fit);

}  // namespace airtally::report
