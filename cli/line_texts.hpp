#pragma once
#include <map>
#include <mutex>
#include <string>

#include "read/line_text.hpp"

namespace airtally::cli {

/// The line files of a command, each read once however often it is asked for: a pipe can't be read again, and all parts
/// of an answer are to be of the same text. Several threads may ask.
class LineTexts {
 public:
  /// Throws BadInput.
  const read::LineText& of(const std::string& file) {
    const std::lock_guard<std::mutex> alone(lock_);
    const auto found = texts_.find(file);
    return found != texts_.end() ? found->second : texts_.emplace(file, read::line_text(file)).first->second;
  }

 private:
  std::mutex lock_;
  std::map<std::string, read::LineText> texts_;  // what is in it stays where it is
};

}  // namespace airtally::cli
