#include "kept_file.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <string_view>
#include <system_error>
#include <utility>

#include "errors.hpp"
#include "output.hpp"
#include "read/line_text.hpp"

namespace airtally::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view elsewhere = "Choose another place with --save.";

fs::path folder_of_file(const fs::path& file) {
  std::error_code error;
  const fs::path whole = fs::weakly_canonical(fs::absolute(file, error), error);  // a link is followed, as in writing
  return whole.parent_path();
}

/// Keeps other sessions from writing into a folder while it lives: between looking at a file and moving the new one
/// over it nobody comes in. Where a file system has no such locks, looking has to do.
class FolderLock {
 public:
  explicit FolderLock(const fs::path& folder)
      : descriptor_(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
    while (descriptor_ >= 0 && ::flock(descriptor_, LOCK_EX) != 0 && errno == EINTR) {
    }
  }
  ~FolderLock() {
    if (descriptor_ >= 0) ::close(descriptor_);
  }
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;

 private:
  int descriptor_;
};

}  // namespace

KeptFile::KeptFile(fs::path path) : path_(std::move(path)) {
  std::error_code error;
  const std::string could_not = path_.string() + " could not be written: ";
  const fs::path folder = folder_of_file(path_);
  if (!fs::is_directory(folder, error))
    throw CannotWrite(could_not + "there is no such folder. " + std::string(elsewhere));
  if (fs::exists(path_, error)) {
    if (!fs::is_directory(path_, error) && !fs::is_regular_file(path_, error))
      throw BadInput(Position{path_.string(), 0, 0},
                     "is no ordinary file, so no readings can be kept in it. " + std::string(elsewhere));
    text_ = read::line_text(path_).text;
  }
  if (::access(folder.c_str(), W_OK | X_OK) != 0)
    throw CannotWrite(could_not + std::strerror(errno) + ". " + std::string(elsewhere));
}

void KeptFile::write(const std::string& text) {
  const FolderLock alone(folder_of_file(path_));
  std::error_code error;
  if (fs::exists(path_, error)) {
    bool same = false;
    try {
      same = read::line_text(path_).text == text_;
    } catch (const BadInput&) {
      // What can't be read any more is not what was there.
    }
    if (!same)
      throw CannotWrite(
          path_.string() +
          " has changed since this session last saw it, so it is left as it is. Start again to go on with "
          "what it holds now, or choose another place with --save.");
  }
  write_file(path_, text, elsewhere);
  text_ = text;
}

}  // namespace airtally::cli
