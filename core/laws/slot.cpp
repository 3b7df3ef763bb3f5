#include "laws/slot.hpp"

#include <cmath>
#include <numbers>

#include "laws/require.hpp"

namespace airtally::laws {

namespace {

constexpr double parabola = 54.0 / 35.0;  ///< kinetic energy of a parabolic profile between plates over the mean's
constexpr double entrance = 0.5;          ///< heads; of a clearance, whose air comes from rest

/// A slot as both laws have it, between a high and a low end: friction, and heads at the low end's density.
struct Slot {
  double a;     ///< friction without slip: a m = high^2 - low^2
  double c;     ///< heads: c m^2 (1 + high/low) on top
  double slip;  ///< [Pa]; friction is less by 1 + slip/(high + low)

  double b(double high, double low) const { return c * (1.0 + high / low); }
  double friction(double sum) const { return a * sum / (sum + slip); }
  /// Its slope with either end.
  double by_end(double sum) const { return a * slip / ((sum + slip) * (sum + slip)); }
  double flow(double high, double low, double drop) const {
    const double drive = drop * (high + low), f = friction(high + low);
    return 2.0 * drive / (f + std::sqrt(f * f + 4.0 * b(high, low) * drive));  // the root without cancellation
  }
  /// By how much the flow still grows as the low end falls, times something positive: below 0 it is choked.
  double growth(double high, double low, double m) const {
    return low * low * (2.0 * low + m * by_end(high + low)) - c * high * m * m;
  }
  /// The low end below which the flow grows no more [Pa]; `low` is choked.
  double choke(double high, double low) const {
    double below = low, above = high;
    for (int i = 0; i < 60 && above - below > 1e-13 * high; ++i) {
      const double p = 0.5 * (below + above);
      (growth(high, p, flow(high, p, high - p)) < 0.0 ? below : above) = p;
    }
    return above;
  }
};

Flow through(const Slot& slot, const Ends& ends) {
  const bool forward = ends.drop >= 0.0;
  const double high = forward ? ends.p1 : ends.p2, low = forward ? ends.p2 : ends.p1;
  double at = low, m = slot.flow(high, low, std::abs(ends.drop));
  const bool choked = slot.growth(high, low, m) < 0.0;
  if (choked) {
    at = slot.choke(high, low);
    m = slot.flow(high, at, high - at);
  }
  const double steep = slot.friction(high + at) + 2.0 * slot.b(high, at) * m;
  const double by_high = (2.0 * high - m * slot.by_end(high + at) - slot.c * m * m / at) / steep;
  const double by_low = choked ? 0.0 : -slot.growth(high, at, m) / (at * at * steep);
  return forward ? Flow{m, by_high, by_low} : Flow{-m, -by_low, -by_high};
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
  const double area = std::numbers::pi * path.diameter * h;
  return through({1.0 / k, 0.5 * (parabola + entrance) * air.rt / (area * area), 12.0 * air.slip / h}, ends);
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
  const double area = 2.0 * std::numbers::pi * path.inner * h;
  return through({1.0 / k, 0.5 * parabola * air.rt / (area * area), 12.0 * air.slip / h}, ends);
}

}  // namespace airtally::laws
