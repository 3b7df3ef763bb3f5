#include "output.hpp"

#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <stdexcept>
#include <system_error>

namespace airtally::cli {

void write_out(const std::string& text) {
  std::signal(SIGPIPE, SIG_IGN);  // a closed pipe then shows as EPIPE below
  errno = 0;
  const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  if (written && std::fflush(stdout) == 0) return;
  if (errno == EPIPE) return;
  throw std::runtime_error(std::string("the answer could not be written: ") + std::strerror(errno) + '.');
}

void write_file(const std::filesystem::path& file, const std::string& text) {
  std::filesystem::path beside = file;
  beside += ".part-" + std::to_string(getpid());
  std::ofstream out(beside, std::ios::binary);
  out << text;
  out.close();
  std::error_code failed;
  if (out) std::filesystem::rename(beside, file, failed);
  if (out && !failed) return;
  const std::string why = failed ? failed.message() : std::strerror(errno);
  std::filesystem::remove(beside, failed);
  throw CannotWrite(file.string() + " could not be written: " + why + '.');
}

bool on_terminal() { return isatty(STDOUT_FILENO) != 0; }

void complain(const std::string& text) {
  std::fputs((text + '\n').c_str(), stderr);
  std::fflush(stderr);
}

}  // namespace airtally::cli
