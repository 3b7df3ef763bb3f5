#include "hunt/beliefs/stated_priors.hpp"

#include <algorithm>
#include <cmath>

#include "gas/air.hpp"

namespace airtally::hunt {
namespace {

using units::Quantity;

// E-folds per unit of z beyond one in twenty-five: a seventh of the way, and of the flow a quarter, is left at one in a
// thousand. Common practice, no source: what clogs or wears out does so whatever the tolerance of the new one.
constexpr double clogged = -1.5;
constexpr double worn = -1.0;

double relative(const Quantity& q) { return q.value > 0.0 ? q.standard_deviation() / q.value : 0.0; }

}  // namespace

Prior prior_of(const Quantity& q, double power) {
  if (q.spread == units::Spread::uniform && q.low > 0.0)
    return {Prior::Shape::range, q.value, 0.0, q.low, q.high, power};
  // A dimension can't be negative: the normal tolerance becomes a log-normal one of the same relative size.
  return {Prior::Shape::log_normal, 1.0, std::fabs(power) * relative(q)};
}

std::optional<Prior> stated_opening(const line::Element& element) {
  if (const auto* bore = std::get_if<line::Bore>(&element.restriction)) {
    if (bore->bore.is_exact() || long_bore(element)) return std::nullopt;
    return prior_of(bore->bore, element.kind == line::Kind::nozzle ? 2.0 : 4.0).damaged(clogged);
  }
  if (const auto* iso = std::get_if<line::Iso>(&element.restriction)) {
    if (iso->conductance.is_exact()) return std::nullopt;
    return prior_of(iso->conductance, 1.0).damaged(clogged);
  }
  if (const auto* rated = std::get_if<line::RatedDrop>(&element.restriction)) {
    if (!rated->drop.is_exact()) return prior_of(rated->drop, -1.0).damaged(clogged);
    if (!rated->flow.is_exact()) return prior_of(rated->flow, 1.0).damaged(clogged);
  }
  return std::nullopt;
}

std::optional<Prior> stated_pump_flow(const line::Pump& pump) {
  if (!pump.speed.is_exact()) return prior_of(pump.speed, 1.0).damaged(worn);
  double widest = 0.0;
  for (const line::CurvePoint& point : pump.flow) widest = std::max(widest, relative(point.value));
  if (!(widest > 0.0)) return std::nullopt;
  return Prior{Prior::Shape::log_normal, 1.0, widest}.damaged(worn);
}

std::optional<Prior> stated_pump_vacuum(const line::Pump& pump) {
  if (pump.flow.empty() || pump.flow.back().vacuum.is_exact()) return std::nullopt;
  const Quantity& deepest = pump.flow.back().vacuum;
  // Nothing pulls below zero pressure: what the tolerance has beyond that is cut off.
  const double most = 0.9999 * gas::standard_pressure;
  if (deepest.spread == units::Spread::normal && deepest.value + 4.0 * deepest.standard_deviation() < most)
    return prior_of(deepest, 1.0);
  const double high = std::min(deepest.high, most), low = std::min(deepest.low, 0.99 * high);
  return Prior{Prior::Shape::range, deepest.value, 0.0, low, high, 1.0};
}

}  // namespace airtally::hunt
