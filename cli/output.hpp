#pragma once
#include <string>

namespace airtally::cli {

/// Writes the whole text to standard output. A reader that has gone away, as behind `| head`, is no error; anything
/// else that stops the writing throws std::runtime_error.
void write_out(const std::string& text);

/// Writes trouble to standard error, a line each, with "airtally: " in front of what has no file and line.
void complain(const std::string& text);

}  // namespace airtally::cli
