#include "line/land.hpp"

#include "line/seat.hpp"

namespace airtally::line {
bool ends_on_rim(const Line& line, const Element& nozzle) {
  if (!line.part || !nozzle.rim) return false;
  const std::optional<Sides> sides = sides_of(*line.part);
  const auto* bore = std::get_if<Bore>(&nozzle.restriction);
  return sides && bore != nullptr && sides->shorter > bore->bore.value && sides->shorter < nozzle.rim->value;
}

std::optional<double> land_outer(const Line& line, const Element& nozzle) {
  if (!nozzle.rim) return {};
  return 0.5 * (ends_on_rim(line, nozzle) ? sides_of(*line.part)->shorter : nozzle.rim->value);
}

}  // namespace airtally::line
