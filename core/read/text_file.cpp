#include <fcntl.h>
#include <fmt/format.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <system_error>

#include "errors.hpp"
#include "read/text_file_private.hpp"

namespace airtally::read {
namespace {

/// An open file that closes itself.
class Open {
 public:
  // Not waiting: a pipe that nobody writes to would hold the program for ever.
  explicit Open(const std::filesystem::path& file)
      : descriptor_(::open(file.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY)) {}
  ~Open() {
    if (descriptor_ >= 0) ::close(descriptor_);
  }
  Open(const Open&) = delete;
  Open& operator=(const Open&) = delete;
  int get() const { return descriptor_; }

 private:
  int descriptor_;
};

/// The next bytes, none at the end. Waits for a writer that is slow. Throws std::system_error.
std::size_t next(int descriptor, std::string& chunk) {
  for (;;) {
    const ssize_t count = ::read(descriptor, chunk.data(), chunk.size());
    if (count >= 0) return static_cast<std::size_t>(count);
    if (errno != EINTR && errno != EAGAIN) throw std::system_error(errno, std::generic_category());
    pollfd waiting{descriptor, POLLIN, 0};
    if (errno == EAGAIN) ::poll(&waiting, 1, -1);
  }
}

}  // namespace

std::string text_of(const std::filesystem::path& file, std::size_t largest) {
  const auto refuse = [&file](const std::string& sentence) {
    throw BadInput(Position{file.string().empty() ? "''" : file.string(), 0, 0}, sentence);
  };
  const Open open(file);
  if (open.get() < 0 && (errno == ENOENT || errno == ENOTDIR))
    refuse("there is no such file; is the path right, and counted from the folder that you are in?");
  if (open.get() < 0 && errno == EACCES) refuse("you may not read this file; its owner can allow it with chmod.");
  if (open.get() < 0) refuse(fmt::format("can't be opened for reading: {}.", std::strerror(errno)));
  struct stat about {};
  if (::fstat(open.get(), &about) == 0 && S_ISDIR(about.st_mode)) refuse("is a folder; name a file in it.");
  std::string text, chunk(std::size_t{1} << 16U, '\0');
  try {
    for (std::size_t count = next(open.get(), chunk); count > 0; count = next(open.get(), chunk)) {
      text.append(chunk, 0, count);
      if (text.size() > largest)
        refuse(fmt::format("is larger than {} MB, so it can't be a file for airtally; name another.",
                           largest / 1'000'000));
    }
  } catch (const std::system_error& error) {
    refuse(fmt::format("can't be read to its end: {}.", error.code().message()));
  }
  if (text.empty() && S_ISFIFO(about.st_mode))
    refuse("is a pipe that gave nothing; name a file, or write to the pipe what the file would hold.");
  return text;
}

}  // namespace airtally::read
