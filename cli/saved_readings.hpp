#pragma once
#include <filesystem>
#include <optional>
#include <string>

#include "hunt/next/next_test.hpp"
#include "kept_file.hpp"
#include "line/line.hpp"
#include "line/notes.hpp"

namespace airtally::cli {

/// What was typed for a dial of a test, as the table [[reading]] of a readings file.
std::string reading_table(const line::Line& line, const hunt::NextTest& test, const hunt::Dial& dial,
                          const std::string& typed);

/// The readings of a session at the bench as they are saved: a text in which every reading is on the disk before the
/// next is asked for.
class SavedReadings {
 public:
  /// Goes on from what `save` holds, or the file beside the line's where that is empty; a file that is not there yet is
  /// written with the first reading. `line` must outlive it. Throws BadInput where nothing may be added to the file: it
  /// is no readings file, is of another line or of none, has names that the line has not, or is no ordinary file.
  SavedReadings(const line::Line& line, const std::string& save);

  const std::filesystem::path& file() const { return kept_.path(); }
  const line::Notes& notes() const { return notes_; }

  /// Saves one more table [[reading]]. Nothing, or why it was not taken: it is none, or no state of the line could give
  /// it. Throws CannotWrite, with all readings shown so that they can be noted.
  std::optional<std::string> add(const std::string& table);

  /// Takes the last reading back, out of the file too: what it was. Nothing where there is none, or where it does not
  /// stand in a table [[reading]] of its own. Throws CannotWrite like add().
  std::optional<std::string> take_back();

 private:
  /// The notes that a text holds, logs read. Throws BadInput.
  line::Notes notes_of(const std::string& text) const;
  void refuse_closed_list() const;
  void keep(std::string text, line::Notes notes);

  const line::Line& line_;
  KeptFile kept_;
  std::string text_;
  line::Notes notes_;
};

}  // namespace airtally::cli
