#pragma once
#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>

namespace airtally::cli {

/// What was to be written could not be: a full disk, a folder that is read-only. The sentence says what and why. The
/// program ends with exit code 1.
class CannotWrite : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Writes the whole text to standard output. A reader that has gone away, as behind `| head`, is no error; anything
/// else that stops the writing throws CannotWrite.
void write_out(const std::string& text);

/// Writes a file whole or not at all. The text goes to a new file beside it, is flushed to the disk, and is then moved
/// over the old one, so that a full disk, a pulled plug or a kill leaves either the old file or the new one. Interrupts
/// wait until it is done. A link is followed, the old file's permissions are kept, and what is no file at all (a pipe,
/// a terminal) is written to as it stands. Throws CannotWrite, whose sentence names the file
/// and ends with `help`, such as "Choose another place with --save."
void write_file(const std::filesystem::path& file, const std::string& text, std::string_view help = {});

/// Whether standard output is a terminal.
bool on_terminal();

/// Writes trouble to standard error, a line each, with "airtally: " in front of what has no file and line.
void complain(const std::string& text);

}  // namespace airtally::cli
