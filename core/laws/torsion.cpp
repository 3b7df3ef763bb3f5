#include "laws/torsion.hpp"

#include <cmath>
#include <limits>
#include <numbers>

#include "laws/require.hpp"

namespace airtally::laws {
namespace {

void require_tube(const ElasticTube& tube) {
  require(tube.bore > 0.0 && tube.wall > 0.0 && tube.length > 0.0 && tube.modulus > 0.0,
          "A tube needs a positive bore, wall, length and modulus.");
  require(tube.poisson >= 0.0 && tube.poisson <= 0.5, "Poisson's ratio lies between 0 and 0.5.");
}

double outer_radius(const ElasticTube& tube) { return 0.5 * tube.bore + tube.wall; }
double middle_radius(const ElasticTube& tube) { return 0.5 * (tube.bore + tube.wall); }

}  // namespace

double polar_moment(const ElasticTube& tube) {
  require_tube(tube);
  const double outer = outer_radius(tube), inner = 0.5 * tube.bore;
  const double outer2 = outer * outer, inner2 = inner * inner;
  // (R^4 - r^4) without the cancellation of a thin wall.
  return 0.5 * std::numbers::pi * (outer2 + inner2) * (outer + inner) * tube.wall;
}

Torsion torsion(const ElasticTube& tube, double angle) {
  const double shear = tube.modulus / (2.0 * (1.0 + tube.poisson));
  const double stiffness = shear * polar_moment(tube) / tube.length;
  return {stiffness * angle, stiffness, outer_radius(tube) * std::abs(angle) / tube.length};
}

double shortest_twisted(const ElasticTube& tube, double angle, double strain) {
  require_tube(tube);
  require(strain > 0.0, "The allowed strain must be positive.");
  return outer_radius(tube) * std::abs(angle) / strain;
}

double flattening_vacuum(const ElasticTube& tube) {
  require_tube(tube);
  const double ratio = tube.wall / middle_radius(tube);
  return tube.modulus / (4.0 * (1.0 - tube.poisson * tube.poisson)) * ratio * ratio * ratio;
}

double flattening_bend(const ElasticTube& tube, double vacuum) {
  require(vacuum >= 0.0, "The vacuum in a bent tube must not be negative.");
  const double left = 1.0 - vacuum / flattening_vacuum(tube);
  if (left <= 0.0) return std::numeric_limits<double>::infinity();
  const double r = middle_radius(tube);
  return 3.0 * r * r * std::sqrt((1.0 - tube.poisson * tube.poisson) / (2.0 * left)) / tube.wall;
}

}  // namespace airtally::laws
