#include "line/land.hpp"

#include <algorithm>

namespace airtally::line {
namespace {

/// The part's short side [m]; one side given stands for both.
std::optional<double> short_side(const Part& part) {
  if (!part.length && !part.width) return {};
  return std::min(part.length.value_or(*part.width).value, part.width.value_or(*part.length).value);
}

}  // namespace

bool ends_on_rim(const Line& line, const Element& nozzle) {
  if (!line.part || !nozzle.rim) return false;
  const std::optional<double> side = short_side(*line.part);
  const auto* bore = std::get_if<Bore>(&nozzle.restriction);
  return side && bore != nullptr && *side > bore->bore.value && *side < nozzle.rim->value;
}

std::optional<double> land_outer(const Line& line, const Element& nozzle) {
  if (!nozzle.rim) return {};
  return 0.5 * (ends_on_rim(line, nozzle) ? *short_side(*line.part) : nozzle.rim->value);
}

}  // namespace airtally::line
