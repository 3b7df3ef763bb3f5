#pragma once
#include <cstddef>
#include <functional>

namespace airtally::study {

/// Told how many of how many pieces are done, from the calling thread.
using Progress = std::function<void(std::size_t done, std::size_t all)>;

/// Does `body(i)` for every i below `count` on `threads` threads, the calling one among them; 0 counts as 1. Each piece
/// must depend on its number alone and write to a place of its own: the result is then the same for any number of
/// threads. Of the exceptions that pieces throw, that of the lowest number is thrown on once all threads have stopped.
void parallel(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& body,
              const Progress& progress = {});

/// How many threads this machine runs at the same time, at least 1.
unsigned processors();

}  // namespace airtally::study
