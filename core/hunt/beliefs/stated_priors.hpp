#pragma once
#include <optional>

#include "hunt/beliefs/priors.hpp"

/// What a tolerance or range in the line file says of how open a way is and how good a pump, in place of what is common
/// for its kind. None where the file states exact values.
namespace airtally::hunt {

/// Factor on the flow at given pressures: it goes with a conductance and with a filter's rated flow, as one over its
/// drop, with the square of a nozzle's bore and the fourth power of another short one (laminar; 2.5 to 2.7 when
/// turbulent, for which this prior is too wide rather than too narrow). The tolerance of a long_bore() is
/// bore_prior()'s.
std::optional<Prior> stated_opening(const line::Element& element);
/// Factor on a source's flow: from `speed`, else from the widest relative tolerance of its curve's flows.
std::optional<Prior> stated_pump_flow(const line::Pump& pump);
/// Factor on its vacuum axis: from the tolerance of the curve's deepest vacuum.
std::optional<Prior> stated_pump_vacuum(const line::Pump& pump);

/// A factor on a flow [-] that goes with the `power` of q > 0, which is not exact. Tested by
/// tests/hunt/stated_priors_test.cpp.
Prior prior_of(const units::Quantity& q, double power);

}  // namespace airtally::hunt
