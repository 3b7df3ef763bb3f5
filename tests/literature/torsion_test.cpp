// Torsion of round shafts and tubes against worked examples in print.
#include "laws/torsion.hpp"

#include <catch2/catch.hpp>
#include <numbers>

using namespace airtally;
using Catch::Matchers::WithinRel;
using std::numbers::pi;

// Source (read): MecMovies, the worked examples that go with Philpot, Mechanics of Materials, 15.1: a shaft of 114 mm
// outside and 102 mm inside has J = 5,954,575 mm4 (seven printed digits); 5000 N m make 47.86 MPa at its surface
// (four).
TEST_CASE("a hollow shaft has the printed polar moment and stress", "[laws][literature]") {
  const laws::ElasticTube shaft{102e-3, 6e-3, 1.0, 200e9, 0.3};
  CHECK_THAT(laws::polar_moment(shaft), WithinRel(5954575e-12, 1e-7));
  const double shear = 200e9 / 2.6;
  const laws::Torsion twisted = laws::torsion(shaft, 1e-3);
  // Torque for the printed stress: stress = shear strain.
  CHECK_THAT(twisted.torque * (47.86e6 / (shear * twisted.strain)), WithinRel(5000.0, 0.005 / 47.86));
}

// Source (read): the same, 6.23: J = 2,207,951 mm4, G = 86 GPa, 2000 mm long, turned by 3 degrees: 4,971,146 N mm. The
// page gives no diameters; a ring of 10 mm wall with that J stands for it.
TEST_CASE("a shaft turned by three degrees holds against the printed torque", "[laws][literature]") {
  double low = 1e-3, high = 1.0;
  for (int i = 0; i < 200; ++i) {
    const double middle = 0.5 * (low + high);
    (laws::polar_moment({middle, 10e-3, 2.0, 1e9, 0.3}) < 2207951e-12 ? low : high) = middle;
  }
  const laws::ElasticTube shaft{low, 10e-3, 2.0, 86e9 * 2.6, 0.3};
  CHECK_THAT(laws::torsion(shaft, 3.0 * pi / 180.0).torque, WithinRel(4971.146, 1e-7));
}
