#pragma once
#include <filesystem>
#include <string>

namespace airtally::cli {

/// A text file that one session keeps up. It knows what the file held when it last saw it, and writes over nothing
/// else: what somebody, or a second session, has put there meanwhile stays.
class KeptFile {
 public:
  /// Reads the file, if it is there. Throws BadInput when it can't be read or is no ordinary file; CannotWrite when
  /// there is no folder to put it in, or nothing may be written there.
  explicit KeptFile(std::filesystem::path path);

  const std::filesystem::path& path() const { return path_; }
  /// As it was read, or as it was last written; empty for a file that was not there.
  const std::string& text() const { return text_; }

  /// Writes it whole or not at all, as write_file() does. A file that was taken away meanwhile is written anew. Throws
  /// CannotWrite where that fails, or where the file holds something else than text().
  void write(const std::string& text);

 private:
  std::filesystem::path path_;
  std::string text_;
};

}  // namespace airtally::cli
