#pragma once
#include <filesystem>
#include <stdexcept>
#include <string>

namespace airtally::cli {

/// What was asked could be answered, but not written. Ends the program with 1.
class CannotWrite : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Writes the whole text to standard output. A reader that has gone away, as behind `| head`, is no error; anything
/// else that stops the writing throws std::runtime_error.
void write_out(const std::string& text);

/// Writes a file whole or not at all: beside its place first, then moved there. Throws CannotWrite.
void write_file(const std::filesystem::path& file, const std::string& text);

/// Whether standard output is a terminal.
bool on_terminal();

/// Writes trouble to standard error, a line each, with "airtally: " in front of what has no file and line.
void complain(const std::string& text);

}  // namespace airtally::cli
