#pragma once
#include <cstddef>

#include "line/line.hpp"

/// Large lines of a given number of elements, all invented.
namespace airtally::bench {

/// One pump, and a tube at which two more begin, and so on; a nozzle at every end.
line::Line tree(std::size_t elements);
/// One pump and tubes one after the other, every eighth with a small leak; a nozzle at the end.
line::Line chain(std::size_t elements);
/// A tree in which one tube in twenty joins the end of its cousin: a loop.
line::Line mesh(std::size_t elements);

}  // namespace airtally::bench
