#include "laws/pump_supply.hpp"

#include "laws/require.hpp"

namespace airtally::laws {

SupplyFlow flow_at_supply(double share) {
  require(share >= 0.3 && share <= 1.3, "A pump's supply must be 0.3 to 1.3 of the rated voltage.");
  return {share, 1.0};
}

}  // namespace airtally::laws
