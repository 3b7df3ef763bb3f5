#pragma once
#include "read/limits_private.hpp"

namespace airtally::read::limits {

/// The hole of a drilled plate: at the bench, in no line.
inline constexpr Limits plate{Dimension::length, 1e-5, 0.01, "0.01 mm .. 10 mm"};

}  // namespace airtally::read::limits
