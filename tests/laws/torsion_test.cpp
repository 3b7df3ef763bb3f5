#include "laws/torsion.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "errors.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;
using std::numbers::pi;

namespace {
const laws::ElasticTube tube{2e-3, 1e-3, 0.1, 2e6, 0.45};
}

// A wall that goes to nothing makes a thin ring: J = 2 pi r^3 t. The error is of the order (t/r)^2/4.
TEST_CASE("the polar moment of a thin ring is that of its middle line", "[laws][closed-form]") {
  const laws::ElasticTube thin{10e-3, 1e-5, 1.0, 1e9, 0.3};
  const double r = 0.5 * (10e-3 + 1e-5);
  CHECK_THAT(laws::polar_moment(thin), WithinRel(2 * pi * r * r * r * 1e-5, 1e-6));
}

TEST_CASE("torque and strain rise straight with the angle and fall with the length", "[laws][property]") {
  const laws::Torsion one = laws::torsion(tube, 1.0), back = laws::torsion(tube, -2.0);
  CHECK_THAT(back.torque, WithinRel(-2.0 * one.torque, 1e-12));
  CHECK_THAT(back.strain, WithinRel(2.0 * one.strain, 1e-12));
  laws::ElasticTube longer = tube;
  longer.length *= 3.0;
  CHECK_THAT(laws::torsion(longer, 1.0).torque, WithinRel(one.torque / 3.0, 1e-12));
  CHECK_THAT((laws::torsion(tube, 1.001).torque - laws::torsion(tube, 0.999).torque) / 0.002,
             WithinRel(one.stiffness, 1e-9));
  // The torque is the moment of the shear stress G gamma r over the ring, summed here in thin rings.
  const double shear = tube.modulus / (2 * 1.45);
  double moment = 0.0;
  for (int k = 0; k < 10000; ++k) {
    const double r = 1e-3 + (k + 0.5) * 1e-7;
    moment += shear * (r * 1.0 / tube.length) * r * 2 * pi * r * 1e-7;
  }
  CHECK_THAT(one.torque, WithinRel(moment, 1e-7));
}

TEST_CASE("at the shortest length the surface strain is the allowed one", "[laws][property]") {
  laws::ElasticTube cut = tube;
  cut.length = laws::shortest_twisted(tube, 1.5 * pi, 0.2);
  CHECK_THAT(laws::torsion(cut, -1.5 * pi).strain, WithinRel(0.2, 1e-12));
}

// The moment of a bent tube that flattens, from the energy per length that docs/joint.md derives: for every curvature
// the flattening z is the one of least energy. The bend radius is where that moment is largest.
TEST_CASE("a tube kinks where the moment of the flattened section is largest", "[laws][closed-form]") {
  const laws::ElasticTube thin{10e-3, 0.5e-3, 1.0, 40e6, 0.45};
  const double r = 0.5 * (10e-3 + 0.5e-3), t = 0.5e-3, e = 40e6, plate = 1 - 0.45 * 0.45;
  for (const double vacuum : {0.0, 0.3, 0.8}) {
    const double inside = vacuum * laws::flattening_vacuum(thin);
    const auto energy = [&](double k, double z) {
      return 0.5 * e * pi * r * r * r * t * k * k * (1 - 1.5 * z) + 0.375 * pi * e * t * t * t / (r * plate) * z * z -
             inside * 1.5 * pi * r * r * z * z;
    };
    const auto least = [&](double k) {  // the parabola's lowest point from three of its values
      const double a = energy(k, 0.0), b = energy(k, 0.1), c = energy(k, 0.2);
      return 0.1 * (3 * a - 4 * b + c) / (2 * (a - 2 * b + c));
    };
    double best = 0.0, at = 0.0;
    for (int i = 1; i < 20000; ++i) {
      const double k = i * 1e-5 / r;
      const double z = least(k);
      const double moment = (energy(k * 1.00001, z) - energy(k * 0.99999, z)) / (2e-5 * k);
      if (moment > best) best = moment, at = k;
    }
    CAPTURE(vacuum);
    CHECK_THAT(laws::flattening_bend(thin, inside), WithinRel(1.0 / at, 2e-3));
    if (vacuum == 0.0)  // Brazier's moment
      CHECK_THAT(best, WithinRel(2 * std::sqrt(2.0) / 9 * pi * e * r * t * t / std::sqrt(plate), 1e-5));
  }
  CHECK(std::isinf(laws::flattening_bend(thin, laws::flattening_vacuum(thin))));
}

TEST_CASE("what is no tube is refused", "[laws][property]") {
  CHECK_THROWS_AS(laws::torsion({0.0, 1e-3, 0.1, 2e6, 0.4}, 1.0), DomainError);
  CHECK_THROWS_AS(laws::torsion({1e-3, 1e-3, 0.1, 2e6, 0.6}, 1.0), DomainError);
  CHECK_THROWS_AS(laws::shortest_twisted(tube, 1.0, 0.0), DomainError);
  CHECK_THROWS_AS(laws::flattening_bend(tube, -1.0), DomainError);
}
