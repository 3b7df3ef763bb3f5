#include "progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <memory>

namespace airtally::cli {
namespace {

using Clock = std::chrono::steady_clock;

/// The moment it was begun and what it shows, shared by all copies of the bar.
struct Bar {
  Clock::time_point begun = Clock::now();
  std::size_t percent = 1000;  // none shown yet

  void tell(std::size_t done, std::size_t all) {
    if (all == 0 || Clock::now() - begun < std::chrono::milliseconds(500)) return;
    const std::size_t now = 100 * done / all;
    if (done < all && now == percent) return;
    percent = now;
    const std::size_t full = 30 * done / all;
    const std::string text = done >= all ? "\r\033[K" : fmt::format("\r[{:<30}] {:3} %", std::string(full, '#'), now);
    std::fputs(text.c_str(), stderr);
    std::fflush(stderr);
  }
};

}  // namespace

study::Progress progress_bar() {
  if (isatty(STDERR_FILENO) == 0) return {};
  return [bar = std::make_shared<Bar>()](std::size_t done, std::size_t all) { bar->tell(done, all); };
}

AtWork::AtWork() {
  if (isatty(STDERR_FILENO) != 0) std::fputs("Working it out ...", stderr);
}

AtWork::~AtWork() {
  if (isatty(STDERR_FILENO) != 0) std::fputs("\r\033[K", stderr);
}

}  // namespace airtally::cli
