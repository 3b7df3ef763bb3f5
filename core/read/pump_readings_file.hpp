#pragma once
#include <filesystem>
#include <string>
#include <string_view>

#include "line/pump_readings.hpp"

namespace airtally::read {

/// Readings taken at a pump (TOML, docs/pumps.md): `blocked`, `free-flow`, and a [[reading]] for each drilled hole or
/// measured flow. Throws BadInput with everything that is wrong, also when there are fewer than two points.
line::PumpReadings read_pump_readings(const std::filesystem::path& file);
/// The same from a text; `name` stands for the file in complaints.
line::PumpReadings read_pump_readings_text(std::string_view text, const std::string& name);

}  // namespace airtally::read
