#include "hunt/logs/hole_leak.hpp"

#include "gas/air.hpp"
#include "hunt/beliefs/plate.hpp"
#include "hunt/beliefs/priors.hpp"
#include "laws/conductance.hpp"

namespace airtally::hunt {

HoleLeak leak_of_hole(const units::Quantity& diameter, const gas::Site& site) {
  const double drop = leak_vacuum(site);
  const auto flow = [&](double d) {
    return laws::conductance(laws::hole(d), {site.pressure, site.pressure - drop, drop}, gas::air_at(site.temperature))
        .m;
  };
  const double deviation = plate_prior({}).spread;
  if (diameter.spread == units::Spread::uniform)
    return {units::Quantity::uniform(flow(diameter.low), flow(diameter.high)), deviation};
  const double middle = flow(diameter.value);
  return {units::Quantity::normal(middle, 4.0 * middle * diameter.standard_deviation() / diameter.value), deviation};
}

}  // namespace airtally::hunt
