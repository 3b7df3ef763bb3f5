#include "output.hpp"

#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstring>

#include "report/width.hpp"

namespace airtally::cli {

void write_out(const std::string& text) {
  std::signal(SIGPIPE, SIG_IGN);  // a closed pipe then shows as EPIPE below
  errno = 0;
  const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  if (written && std::fflush(stdout) == 0) return;
  if (errno == EPIPE) return;
  throw CannotWrite(std::string("the answer could not be written: ") + std::strerror(errno) + '.');
}

bool on_terminal() { return isatty(STDOUT_FILENO) != 0; }

void complain(const std::string& text) {
  // On a terminal it is read; anywhere else a complaint is one line, by which tools find the place.
  const bool read = isatty(STDERR_FILENO) != 0;
  std::fputs((read ? report::paragraph(text, 80, 2) : text + '\n').c_str(), stderr);
  std::fflush(stderr);
}

}  // namespace airtally::cli
