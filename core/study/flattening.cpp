#include "study/flattening.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "gas/air.hpp"
#include "laws/torsion.hpp"

namespace airtally::study {
namespace {

/// Deepest vacuum that any source can pull [Pa].
double deepest(const line::Line& line) {
  double deepest = 0.0;
  for (const line::Element& e : line.elements)
    if (e.pump)
      deepest = std::max(deepest, e.pump->flow.back().vacuum.value * line.site.pressure / gas::standard_pressure);
  return deepest;
}

}  // namespace

std::vector<Warning> flattening(const line::Line& line) {
  const double most = deepest(line);
  std::vector<Warning> all;
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    const line::Element& e = line.elements[i];
    const auto* bore = std::get_if<line::Bore>(&e.restriction);
    if (!bore || !e.wall || !e.modulus) continue;
    const double critical =
        laws::flattening_vacuum({bore->bore.value, e.wall->value, bore->length.value, e.modulus->value});
    if (critical >= most) continue;
    all.push_back({i,
                   fmt::format("'{}' flattens at {:.1f} kPa of vacuum (wall {:.2f} mm, E = {:.1f} MPa), and the source "
                               "can pull {:.1f} kPa; take a thicker wall or a stiffer tube.",
                               e.name, critical / 1e3, e.wall->value * 1e3, e.modulus->value / 1e6, most / 1e3),
                   About::flattens});
  }
  return all;
}

}  // namespace airtally::study
