#pragma once

namespace airtally::laws {

/// By how much a pump's flow changes with its supply.
struct SupplyFlow {
  double factor = 1.0;  ///< on the flow at each vacuum [-]
  double slope = 1.0;   ///< d factor/d share [-]
};

/// What is left of a pump's flow when its motor gets `share` of the voltage at which its curve was read:
///
///   factor = share
///
/// A direct-current motor turns nearly in proportion to its voltage, and a pump that displaces volume gives flow in
/// proportion to its speed; the deepest vacuum, set by its dead volume and valves, stays. Not modelled: what the
/// windings drop under load (the true flow falls a little faster), a motor that stalls, a controller that keeps the
/// speed. `share` 0.3 to 1.3. Throws DomainError outside. Source: common practice, no source. Tested by
/// tests/laws/pump_supply_test.cpp.
SupplyFlow flow_at_supply(double share);

}  // namespace airtally::laws
