#include "laws/slot.hpp"

#include <cmath>
#include <numbers>

#include "laws/require.hpp"

namespace airtally::laws {

namespace {

/// k (p1 - p2)(p1 + p2 + slip) with its slopes, the difference taken from the caller.
Flow parabola(double k, const Ends& ends, double slip) {
  return {k * ends.drop * (ends.p1 + ends.p2 + slip), k * (2.0 * ends.p1 + slip), -k * (2.0 * ends.p2 + slip)};
}

}  // namespace

Flow clearance(const Clearance& path, const Ends& ends, const gas::Air& air) {
  require_pressures(ends);
  require(path.gap > 0.0 && path.diameter > 0.0 && path.length > 0.0,
          "A clearance needs a positive gap, diameter and length.");
  require(path.eccentricity >= 0.0 && path.eccentricity <= 1.0, "A clearance's eccentricity must lie between 0 and 1.");
  const double h = path.gap;
  const double k = std::numbers::pi * path.diameter * h * h * h * (1.0 + 1.5 * path.eccentricity * path.eccentricity) /
                   (24.0 * air.viscosity * air.rt * path.length);
  return parabola(k, ends, 12.0 * air.slip / h);
}

double clearance_reynolds(const Clearance& path, double m, const gas::Air& air) {
  require(path.diameter > 0.0, "A clearance needs a positive diameter.");
  return 2.0 * std::abs(m) / (std::numbers::pi * path.diameter * air.viscosity);
}

Flow face_gap(const FaceGap& path, const Ends& ends, const gas::Air& air) {
  require_pressures(ends);
  require(path.gap > 0.0 && path.inner > 0.0 && path.outer > path.inner,
          "A face gap needs a positive gap and inner radius, and an outer radius above the inner.");
  const double h = path.gap;
  const double k = std::numbers::pi * h * h * h / (12.0 * air.viscosity * air.rt * std::log(path.outer / path.inner));
  return parabola(k, ends, 12.0 * air.slip / h);
}

}  // namespace airtally::laws
