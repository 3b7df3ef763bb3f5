#pragma once
#include <cstddef>

namespace airtally::bench {

/// Bytes on the heap now.
std::size_t allocated();

}  // namespace airtally::bench
