#include "laws/current_curve.hpp"

#include <algorithm>

#include "gas/air.hpp"
#include "laws/require.hpp"

namespace airtally::laws {

namespace {

MonotoneCubic through(const std::vector<CurvePoint>& current) {
  require(current.size() >= 2, "A current curve needs at least two points.");
  require(current.front().vacuum >= 0.0 && current.back().vacuum < gas::standard_pressure,
          "A current curve's vacuum must lie between 0 and 101,325 Pa.");
  std::vector<double> x;
  std::vector<double> y;
  for (const CurvePoint& point : current) {
    require(point.value >= 0.0, "A motor's current must not be negative.");
    x.push_back(point.vacuum);
    y.push_back(point.value);
  }
  return {std::move(x), std::move(y)};
}

}  // namespace

CurrentCurve::CurrentCurve(const std::vector<CurvePoint>& current, const gas::Site& site)
    : curve_(through(current)), ambient_(site.pressure), vacuum_factor_(gas::standard_pressure / site.pressure) {
  require(site.pressure > 0.0, "A current curve needs a site with positive pressure.");
}

Current CurrentCurve::at(double p) const {
  const double vacuum = (ambient_ - p) * vacuum_factor_;
  const double inside = std::clamp(vacuum, curve_.first(), curve_.last());
  if (inside != vacuum) return {curve_.value(inside), 0.0};
  return {curve_.value(inside), -vacuum_factor_ * curve_.slope(inside)};
}

}  // namespace airtally::laws
