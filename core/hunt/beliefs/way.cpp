#include "hunt/beliefs/way.hpp"

#include <algorithm>

#include "gas/air.hpp"
#include "laws/duct.hpp"

namespace airtally::hunt {
namespace {

/// The product of what narrows the way; `value` gives what unknown k is.
template <class Value>
std::optional<double> product(const Suspects& suspects, std::size_t element, const Value& value) {
  std::optional<double> open;
  for (std::size_t k = 0; k < suspects.unknowns.size(); ++k) {
    const Unknown& unknown = suspects.unknowns[k];
    if (unknown.element != element) continue;
    if (unknown.what == What::blockage) open = open.value_or(1.0) * value(k);
    if (unknown.what == What::bore)
      open =
          open.value_or(1.0) * through_bore(*long_bore(suspects.line.elements[element]), value(k), suspects.line.site);
  }
  return open;
}

}  // namespace

double through_bore(const line::Bore& bore, double factor, const gas::Site& site) {
  if (factor == 1.0) return 1.0;
  const gas::Air air = gas::air_at(site.temperature);
  const laws::Ends ends{site.pressure, site.pressure - way_drop};
  const auto flow = [&](double d) {
    const double roughness = std::min(bore.roughness.value, 0.1 * d), loss = bore.loss.value;
    return laws::duct({d, bore.length.value, roughness, loss, loss}, ends, air).m;
  };
  return flow(factor * bore.bore.value) / flow(bore.bore.value);
}

std::optional<double> way_through(const Suspects& suspects, std::size_t element, std::span<const double> values) {
  return product(suspects, element, [&](std::size_t k) { return values[k]; });
}

std::optional<double> filed_way(const Suspects& suspects, std::size_t element) {
  return product(suspects, element, [&](std::size_t k) { return suspects.unknowns[k].filed(); });
}

}  // namespace airtally::hunt
