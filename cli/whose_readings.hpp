#pragma once
#include <optional>
#include <string>
#include <vector>

#include "line/notes.hpp"

namespace airtally::cli {

/// The line file that readings files name, each beside itself. Throws BadInput when none names one, when a name leads
/// to no file, or when two name different ones.
std::string line_named_by(const std::vector<line::Notes>& all);

/// Says on standard error where readings are taken for those of another line than they name, as when a copy of the line
/// is tried on them, and returns that sentence. Silent, and none, where they name none, or one that isn't there.
std::optional<std::string> tell_of_another_line(const line::Notes& notes, const std::string& line_file);

/// Throws BadInput unless the readings are of that line: of another, or of none, they are somebody else's, and nothing
/// is to be added to them.
void refuse_another_line(const line::Notes& notes, const std::string& line_file);

}  // namespace airtally::cli
