#pragma once
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace airtally::read {

/// The angles by which parts are turned between pick and place, in the order of a list of placements: a table of text
/// whose first row names the columns, the first of a unit of angle counting ("angle_deg", "turn [rad]"). Cells are
/// parted as in a log (read/log_file.hpp); empty lines and lines that begin with # are skipped. In radians.
/// Throws BadInput with file:line:column of every trouble (at most twenty), also where there is no angle at all.
std::vector<double> read_angles(const std::filesystem::path& file);
/// The same from a text; `name` stands for the file in complaints.
std::vector<double> read_angles_text(std::string_view text, const std::string& name);

}  // namespace airtally::read
