#include "hunt/verdict/as_gap.hpp"

#include <algorithm>

#include "gas/air.hpp"
#include "laws/slot.hpp"
#include "line/land.hpp"

namespace airtally::hunt {

double as_gap(const line::Line& line, std::size_t nozzle, double factor, double vacuum) {
  const line::Element& element = line.elements[nozzle];
  const auto* bore = std::get_if<line::Bore>(&element.restriction);
  if (!line.part || !(line.part->gap.value > 0.0) || !bore) return 0.0;
  const auto outer = line::land_outer(line, element);
  if (!outer) return 0.0;
  const gas::Air air = gas::air_at(line.site.temperature);
  const double ambient = line.site.pressure, inner = 0.5 * bore->bore.value;
  const auto flow = [&](double gap) {
    return laws::face_gap({gap, inner, *outer}, {ambient, ambient - vacuum, vacuum}, air).m;
  };
  const double wanted = factor * flow(line.part->gap.value);
  double low = 1e-9, high = std::max(bore->bore.value / 2.0, line.part->gap.value);
  for (int i = 0; i < 60 && high - low > 1e-6 * high; ++i) {
    const double middle = 0.5 * (low + high);
    (flow(middle) < wanted ? low : high) = middle;
  }
  return high;
}

}  // namespace airtally::hunt
