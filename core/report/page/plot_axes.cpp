// The ends of a plot's axes and the steps of their ticks.
#include <algorithm>
#include <cmath>

#include "report/chart.hpp"
#include "report/page/plot.hpp"

namespace airtally::report::page {
namespace {

/// A span of the axis in the unit that its ticks are round in.
double in_unit(const Axis& axis, const Units& units, double si) {
  if (axis.of == Axis::Of::vacuum) return units::from_si(si, *units.first().vacuum);
  return axis.unit == nullptr ? si : units::from_si(si, *axis.unit);
}
double in_si(const Axis& axis, const Units& units, double value) {
  if (axis.of == Axis::Of::vacuum) return units::to_si(value, *units.first().vacuum);
  return axis.unit == nullptr ? value : units::to_si(value, *axis.unit);
}

void take(Axis& axis, const std::vector<double>& values) {
  for (const double v : values)
    if (std::isfinite(v)) axis.top = std::max(axis.top, v), axis.bottom = std::min(axis.bottom, v);
}

}  // namespace

double tick_step(const Axis& axis, const Units& units, std::size_t most) {
  const double span = in_unit(axis, units, axis.top) - in_unit(axis, units, axis.bottom);
  return in_si(axis, units, round_step(span > 0.0 ? span : 1.0, most)) - in_si(axis, units, 0.0);
}

void fit_axes(Plot& plot, const Units& units) {
  for (const Series& s : plot.series) {
    take(plot.x, s.x);
    for (const std::vector<double>* v : {&s.y, &s.low, &s.high}) take(plot.y, *v);
  }
  for (const Level& level : plot.levels) take(plot.y, {level.at});
  for (const Mark& mark : plot.marks) take(plot.x, {mark.at});
  if (plot.x.of == Axis::Of::place) plot.x.top = static_cast<double>(plot.x.places.size());
  if (!(plot.x.top > plot.x.bottom)) plot.x.top = plot.x.bottom + 1.0;
  if (!(plot.y.top > plot.y.bottom)) plot.y.top = plot.y.bottom + 1.0;
  if (plot.x.of == Axis::Of::vacuum) {
    const double step = tick_step(plot.x, units, 9);
    plot.x.top = step * std::ceil(plot.x.top / step * (1.0 + 0.01));
  }
  // Room above the highest curve, up to a round number.
  const double step = tick_step(plot.y, units, 6);
  plot.y.top = step * std::ceil(plot.y.top / step * (1.0 + 0.01));
  // What lies below zero by less than a stroke is wide takes no step of its own.
  constexpr double unseen = 1e-3;
  if (plot.y.bottom < -unseen * plot.y.top)
    plot.y.bottom = step * std::floor(plot.y.bottom / step);
  else
    plot.y.bottom = std::max(plot.y.bottom, 0.0);
}

}  // namespace airtally::report::page
