#include "laws/closing_gap.hpp"

#include <cmath>
#include <numbers>

#include "laws/require.hpp"

namespace airtally::laws {

Flow closing_gap(const ClosingGap& path, const Ends& ends, const gas::Air& air) {
  require_pressures(ends);
  require(path.gap > 0.0 && path.inner > 0.0 && path.outer > path.inner,
          "A closing gap needs a positive gap and inner radius, and an outer radius above the inner.");
  const double h = path.gap;
  const double curtain = 2.0 * std::numbers::pi * path.inner * h;
  const double a = 12.0 * air.viscosity * air.rt * std::log(path.outer / path.inner) / (std::numbers::pi * h * h * h);
  const double b = 1.5 * air.rt / (curtain * curtain);
  // With slip the laminar part is driven by drop (p1 + p2 + 12 slip/h); the head's part is small wherever slip is not.
  const double slip = 12.0 * air.slip / h;
  const double drive = std::abs(ends.drop) * (ends.p1 + ends.p2 + slip);
  const double root = std::sqrt(a * a + 4.0 * b * drive);
  const double m = 2.0 * drive / (a + root);  // the parabola's root without cancellation
  // dm/d(drive) = 1/root; drive's slopes are those of p1^2 - p2^2 + slip (p1 - p2), whichever end is higher.
  return {ends.drop < 0.0 ? -m : m, (2.0 * ends.p1 + slip) / root, -(2.0 * ends.p2 + slip) / root};
}

}  // namespace airtally::laws
