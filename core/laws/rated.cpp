#include "laws/rated.hpp"

#include "laws/require.hpp"

namespace airtally::laws {

namespace {

void require_measurement(double m, double p1, double p2) {
  require_pressures({p1, p2});
  require(m >= 0.0 && m < 1e9 && p1 > p2, "A rated path needs a flow that is not negative, from a higher pressure.");
}

}  // namespace

Rated rated_from(double m, double p1, double p2) {
  require_measurement(m, p1, p2);
  return {m / ((p1 - p2) * (p1 + p2))};
}

Flow rated(const Rated& path, const Ends& ends) {
  require_pressures(ends);
  require(path.k >= 0.0, "A rated path's factor must not be negative.");
  return {path.k * ends.drop * (ends.p1 + ends.p2), 2.0 * path.k * ends.p1, -2.0 * path.k * ends.p2};
}

Conductance conductance_from(double m, double p1, double p2, double b) {
  require_measurement(m, p1, p2);
  const double of_unit = conductance({1.0, b}, {p1, p2}, gas::air_at(gas::free_air_temperature)).m;
  return {m / of_unit, b};
}

}  // namespace airtally::laws
