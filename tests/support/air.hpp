#pragma once
#include "gas/air.hpp"
#include "gas/site.hpp"

namespace airtally::support {

/// The room of most tests: 20 C, at standard pressure.
inline const gas::Air air = gas::air_at(293.15);
inline const gas::Site reference{101325.0, 293.15};

}  // namespace airtally::support
