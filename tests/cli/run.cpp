#include "cli/run.hpp"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <sstream>
#include <stdexcept>

namespace airtally::test {
namespace {

/// A file descriptor that closes itself.
class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {
    if (fd < 0) throw std::runtime_error("no file descriptor");
  }
  ~Descriptor() { close_now(); }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  int get() const { return fd_; }
  void close_now() {
    if (fd_ >= 0) ::close(fd_);
    fd_ = -1;
  }

 private:
  int fd_;
};

/// A file that has no name, to catch what is written without having to read at the same time.
int nameless() {
  std::string name = (std::filesystem::temp_directory_path() / "airtally-XXXXXX").string();
  const int fd = mkstemp(name.data());
  ::unlink(name.c_str());
  return fd;
}

std::string rest(int fd) {
  std::string text;
  std::array<char, 4096> block{};
  for (;;) {
    const ssize_t n = ::read(fd, block.data(), block.size());
    if (n <= 0) return text;  // a terminal whose other end is closed reports an error
    text.append(block.data(), static_cast<std::size_t>(n));
  }
}

[[noreturn]] void become(const std::vector<std::string>& arguments,
                         const std::map<std::string, std::string>& environment, int out, int err) {
  std::vector<std::string> words{AIRTALLY_COMMAND}, settings;
  words.insert(words.end(), arguments.begin(), arguments.end());
  const char* path = std::getenv("PATH");
  settings.push_back(std::string("PATH=") + (path != nullptr ? path : ""));
  for (const auto& [key, value] : environment) settings.push_back(key + "=" + value);
  std::vector<char*> argv, envp;
  for (std::string& word : words) argv.push_back(word.data());
  for (std::string& setting : settings) envp.push_back(setting.data());
  argv.push_back(nullptr);
  envp.push_back(nullptr);
  if (::chdir(AIRTALLY_SOURCE_DIR) == 0 && ::dup2(out, STDOUT_FILENO) >= 0 && ::dup2(err, STDERR_FILENO) >= 0)
    ::execve(argv.front(), argv.data(), envp.data());
  ::_exit(127);
}

/// Both ends of what standard output is to be: the end to write to, and the one to read from (or -1).
std::array<int, 2> ends(Output output) {
  if (output == Output::pipe) {
    const int file = nameless();
    return {file, ::dup(file)};
  }
  if (output == Output::full) return {::open("/dev/full", O_WRONLY | O_CLOEXEC), -1};
  if (output == Output::closed) {
    std::array<int, 2> pipe{};
    if (::pipe(pipe.data()) != 0) throw std::runtime_error("no pipe");
    ::close(pipe[0]);
    return {pipe[1], -1};
  }
  const int master = ::posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
  if (master < 0 || ::grantpt(master) != 0 || ::unlockpt(master) != 0) throw std::runtime_error("no terminal");
  return {::open(::ptsname(master), O_RDWR | O_NOCTTY), master};
}

}  // namespace

Ran run(const std::vector<std::string>& arguments, Output output,
        const std::map<std::string, std::string>& environment) {
  const bool watched = output == Output::watched;
  const std::array<int, 2> both = ends(watched ? Output::pipe : output);
  const std::array<int, 2> trouble = watched ? ends(Output::terminal) : std::array<int, 2>{nameless(), -1};
  Descriptor out(both[0]), err(trouble[0]);
  const pid_t child = ::fork();
  if (child < 0) throw std::runtime_error("no process");
  if (child == 0) become(arguments, environment, out.get(), err.get());
  out.close_now();
  Ran ran;
  if (output == Output::terminal) ran.out = rest(both[1]);
  if (watched) {
    err.close_now();
    ran.err = rest(trouble[1]);
    ::close(trouble[1]);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  ran.code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  if (output == Output::pipe || watched) {
    ::lseek(both[1], 0, SEEK_SET);
    ran.out = rest(both[1]);
  }
  if (both[1] >= 0) ::close(both[1]);
  if (watched) return ran;
  ::lseek(err.get(), 0, SEEK_SET);
  ran.err = rest(err.get());
  return ran;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> all;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) all.push_back(line);
  return all;
}

std::vector<std::string> line_files() {
  std::vector<std::string> all;
  for (const auto& entry : std::filesystem::directory_iterator(AIRTALLY_SOURCE_DIR "/lines"))
    if (entry.path().extension() == ".toml") all.push_back("lines/" + entry.path().filename().string());
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace airtally::test
