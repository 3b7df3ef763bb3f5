#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <system_error>

#include "output.hpp"

namespace airtally::cli {
namespace {

namespace fs = std::filesystem;

/// Holds interrupts back while it lives.
class Uninterrupted {
 public:
  Uninterrupted() {
    sigset_t held;
    sigemptyset(&held);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGTSTP}) sigaddset(&held, signal);
    sigprocmask(SIG_BLOCK, &held, &before_);
  }
  ~Uninterrupted() { sigprocmask(SIG_SETMASK, &before_, nullptr); }
  Uninterrupted(const Uninterrupted&) = delete;
  Uninterrupted& operator=(const Uninterrupted&) = delete;

 private:
  sigset_t before_{};
};

/// A file that is being written; taken away again unless it is kept.
class Writing {
 public:
  Writing(const fs::path& shown, int descriptor, std::string temporary)
      : shown_(shown), descriptor_(descriptor), temporary_(std::move(temporary)) {
    if (descriptor_ < 0) fail();
  }
  ~Writing() {
    if (descriptor_ >= 0) ::close(descriptor_);
    if (!temporary_.empty()) ::unlink(temporary_.c_str());
  }
  Writing(const Writing&) = delete;
  Writing& operator=(const Writing&) = delete;

  [[noreturn]] void fail() const {
    throw CannotWrite(shown_.string() + " could not be written: " + std::strerror(errno) + '.');
  }
  void permit(mode_t mode) const {
    if (::fchmod(descriptor_, mode) != 0) fail();
  }
  void write(const std::string& text) const {
    for (std::size_t at = 0; at < text.size();) {
      const ssize_t written = ::write(descriptor_, text.data() + at, text.size() - at);
      if (written < 0 && errno == EINTR) continue;
      if (written < 0) fail();
      at += static_cast<std::size_t>(written);
    }
  }
  /// Some disks report only here that they are full.
  void close() {
    const int closed = ::close(descriptor_);
    descriptor_ = -1;
    if (closed != 0) fail();
  }
  void flush() const {
    if (::fsync(descriptor_) != 0) fail();
  }
  void move_to(const fs::path& target) {
    if (::rename(temporary_.c_str(), target.c_str()) != 0) fail();
    temporary_.clear();
  }

 private:
  const fs::path& shown_;
  int descriptor_;
  std::string temporary_;
};

/// The move itself must reach the disk too; a file system that cannot flush a folder has its own way.
void flush_folder(const fs::path& folder) {
  const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (descriptor < 0) return;
  ::fsync(descriptor);
  ::close(descriptor);
}

/// What a new file of this process may be: 0666 less what the user's mask takes away.
mode_t usual_mode() {
  const mode_t mask = ::umask(0);
  ::umask(mask);
  return 0666U & ~mask;
}

/// A link that leads nowhere yet names where the file is to be.
fs::path end_of_links(fs::path file) {
  constexpr int most = 40;  // as many as Linux follows
  std::error_code error;
  for (int followed = 0; followed < most && fs::is_symlink(file, error); ++followed) {
    const fs::path to = fs::read_symlink(file, error);
    file = to.is_absolute() ? to : file.parent_path() / to;
  }
  return file;
}

void write_whole(const fs::path& file, const std::string& text) {
  std::signal(SIGPIPE, SIG_IGN);  // a closed pipe then shows as an error below
  struct stat old {};
  const bool there = ::stat(file.c_str(), &old) == 0;
  if (there && !S_ISREG(old.st_mode)) {
    Writing as_it_stands(file, ::open(file.c_str(), O_WRONLY | O_CLOEXEC), {});
    as_it_stands.write(text);
    as_it_stands.close();
    return;
  }
  const Uninterrupted held;  // a pipe that no one reads would hold it for ever
  std::error_code error;
  const fs::path target = there ? fs::canonical(file, error) : end_of_links(file);
  const fs::path folder = target.has_parent_path() ? target.parent_path() : fs::path(".");
  std::string name = (folder / ("." + target.filename().string() + ".XXXXXX")).string();
  const int descriptor = ::mkostemp(name.data(), O_CLOEXEC);
  Writing beside(file, descriptor, descriptor < 0 ? std::string() : name);
  beside.permit(there ? old.st_mode & 07777U : usual_mode());
  beside.write(text);
  beside.flush();
  beside.close();
  beside.move_to(target);
  flush_folder(folder);
}

}  // namespace

void write_file(const fs::path& file, const std::string& text, std::string_view help) {
  try {
    write_whole(file, text);
  } catch (const CannotWrite& error) {
    if (help.empty()) throw;
    throw CannotWrite(std::string(error.what()).append(" ").append(help));
  }
}

}  // namespace airtally::cli
