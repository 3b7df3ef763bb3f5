#include "laws/pump_curve.hpp"

#include "gas/air.hpp"
#include "laws/require.hpp"

namespace airtally::laws {

namespace {

MonotoneCubic flow_through(const std::vector<CurvePoint>& flow) {
  require(flow.size() >= 2, "A pump curve needs at least two points.");
  require(flow.front().vacuum >= 0.0 && flow.back().vacuum < gas::standard_pressure,
          "A pump curve's vacuum must lie between 0 and 101,325 Pa.");
  std::vector<double> x;
  std::vector<double> y;
  for (const CurvePoint& point : flow) {
    require(y.empty() || (point.value <= y.back() && y.back() > 0.0),
            "A pump's flow must never rise with vacuum and be zero at the last point only.");
    x.push_back(point.vacuum);
    y.push_back(point.value);
  }
  require(y.back() == 0.0, "A pump curve must end with no flow.");
  return {std::move(x), std::move(y), MonotoneCubic::LastSlope::never_flat};
}

}  // namespace

PumpCurve::PumpCurve(const std::vector<CurvePoint>& flow, const gas::Site& site, double speed)
    : curve_(flow_through(flow)), ambient_(site.pressure) {
  require(site.pressure > 0.0 && site.temperature > 0.0, "A pump needs a site with positive pressure and temperature.");
  require(speed >= 0.0, "A pump's speed must not be negative.");
  vacuum_factor_ = gas::standard_pressure / site.pressure;
  flow_factor_ = speed / vacuum_factor_ * (reading_temperature / site.temperature);
  ultimate_ = site.pressure - curve_.last() / vacuum_factor_;
  free_flow_ = flow_factor_ * flow.front().value;
  const double before_last = (flow.end() - 2)->vacuum;
  width_ = curve_.last() - before_last;
  first_value_ = (flow.end() - 2)->value;
  first_slope_ = curve_.slope(before_last);
  last_slope_ = curve_.slope(curve_.last());
}

PumpFlow PumpCurve::at(double p, double low) const {
  const double above = (p - ultimate_) + low;
  if (above < 0.0) return {0.0, 0.0};
  const double from_last = above * vacuum_factor_;
  if (from_last <= width_) {
    // Hermite's cubic in the distance u from its end, where its value is 0: no cancellation.
    const double u = from_last / width_, t = 1.0 - u;
    const double value =
        u * (u * (first_value_ * (3.0 - 2.0 * u) + width_ * first_slope_ * t) - width_ * last_slope_ * t * t);
    const double slope = 6.0 * u * t * first_value_ / width_ + first_slope_ * u * (2.0 - 3.0 * u) -
                         last_slope_ * t * (1.0 - 3.0 * u);  // with rising pressure
    return {flow_factor_ * value, flow_factor_ * vacuum_factor_ * slope};
  }
  const double vacuum = (ambient_ - p - low) * vacuum_factor_;
  if (vacuum < curve_.first()) return {free_flow_, 0.0};
  return {flow_factor_ * curve_.value(vacuum), -flow_factor_ * vacuum_factor_ * curve_.slope(vacuum)};
}

}  // namespace airtally::laws
