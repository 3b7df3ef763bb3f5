#include "study/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

#include "solve/tally.hpp"

namespace airtally::study {

void parallel(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& body,
              const Progress& progress) {
  std::atomic<std::size_t> next{0}, done{0}, stop{count};
  std::size_t told = 0;
  std::mutex guard;
  std::exception_ptr first;
  const auto work = [&](bool tell) {
    // Numbers are handed out in order, so whatever lies below a failed one is done or being done: the lowest failure is
    // found whoever meets it.
    for (std::size_t i = next++; i < stop; i = next++) {
      try {
        body(i);
      } catch (...) {
        const std::scoped_lock lock(guard);
        if (i < stop) {
          stop = i;
          first = std::current_exception();
        }
      }
      const std::size_t now = ++done;
      if (tell && progress) progress(told = now, count);
    }
  };
  {
    std::vector<std::jthread> others;
    // What the threads solve counts where it would if the calling one did it.
    solve::Work* counted = solve::Work::current();
    const auto helper = [&] {
      const solve::CountingIn counting(counted);
      work(false);
    };
    for (unsigned t = 1; t < threads && t < count; ++t) others.emplace_back(helper);
    work(true);
  }
  // The last ones may have been done by the others, which tell nothing.
  if (progress && told < count && stop == count) progress(count, count);
  if (first) std::rethrow_exception(first);
}

unsigned processors() { return std::max(1U, std::thread::hardware_concurrency()); }

}  // namespace airtally::study
