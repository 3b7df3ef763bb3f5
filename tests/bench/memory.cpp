#include "memory.hpp"

#include <malloc.h>

namespace airtally::bench {

std::size_t allocated() {
  const struct mallinfo2 info = mallinfo2();
  return info.uordblks + info.hblkhd;
}

}  // namespace airtally::bench
