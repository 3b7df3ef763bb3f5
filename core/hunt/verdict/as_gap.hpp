#pragma once
#include <cstddef>

#include "line/line.hpp"

namespace airtally::hunt {

/// The gap between a nozzle's rim and its part [m] that lets in `factor` > 0 times what the file's gap does, with the
/// tip at `vacuum` > 0 [Pa]: a narrow gap's flow goes with its cube, a wide one's with itself, as the heads at its
/// inner edge take over (laws/slot.hpp). At most half the nozzle's bore, beyond which nothing hinders the air any more.
/// 0 where the file has no gap, or the nozzle no rim. Tested by tests/hunt/seal_test.cpp.
double as_gap(const line::Line& line, std::size_t nozzle, double factor, double vacuum);

}  // namespace airtally::hunt
