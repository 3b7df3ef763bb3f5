#pragma once
#include "gas/site.hpp"
#include "units/quantity.hpp"

namespace airtally::hunt {

/// What a drilled hole lets in, as a leak that is known.
struct HoleLeak {
  units::Quantity flow;    ///< at leak_vacuum() [kg/s] > 0, as sure or unsure as the diameter
  double deviation = 0.0;  ///< of the logarithm of a factor on it [-]: how its edge and its drill came out
};

/// Of a hole of `diameter` [m] > 0, its whole tolerance too. The flow goes with the square of it; the factor is that of
/// any plate (hunt/beliefs/plate.hpp), as nobody knows a drilled hole's discharge coefficient. Throws DomainError
/// outside laws::hole()'s range. Tested by tests/hunt/decay_test.cpp.
HoleLeak leak_of_hole(const units::Quantity& diameter, const gas::Site& site);

}  // namespace airtally::hunt
