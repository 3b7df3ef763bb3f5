#pragma once
#include <filesystem>
#include <string>
#include <string_view>

#include "gas/site.hpp"
#include "line/notes.hpp"

/// A readings file (TOML, docs/bench-guide.md) to Notes. Names are looked up later, when the line is known.
namespace airtally::read {

/// Throws BadInput with everything that is wrong, in the order of the file.
line::Notes read_readings(const std::filesystem::path& file);
/// The same from a text; `name` stands for the file in complaints.
line::Notes read_readings_text(std::string_view text, const std::string& name);

/// Reads the logs that the notes name, beside their file (named_file()), for a site. Throws BadInput with all
/// complaints: a log that is not there, or that is none.
void read_logs(line::Notes& notes, const gas::Site& site);

}  // namespace airtally::read
