#pragma once
#include "read/limits_private.hpp"

namespace airtally::read::limits {

/// By how much a part, or its nozzle, is turned: wide enough for anything that turns a nozzle. Common practice, no
/// source.
inline constexpr Limits turn{Dimension::angle, -700.0, 700.0, "-700 rad .. 700 rad"};

}  // namespace airtally::read::limits
