#include "laws/pump_supply.hpp"

#include <catch2/catch.hpp>

#include "errors.hpp"
#include "laws/pump_curve.hpp"

using namespace airtally;

TEST_CASE("less supply takes flow at every vacuum alike and leaves the deepest vacuum", "[laws][property]") {
  const std::vector<laws::CurvePoint> points{{0.0, 1.5e-4}, {30e3, 9e-5}, {70e3, 0.0}};
  const gas::Site site;
  const laws::PumpCurve rated(points, site), sagging(points, site, laws::flow_at_supply(0.8).factor);
  CHECK(sagging.ultimate() == rated.ultimate());
  for (const double p : {40e3, 60e3, 90e3}) CHECK(sagging.at(p).m == Approx(0.8 * rated.at(p).m));
  CHECK(laws::flow_at_supply(1.0).factor == 1.0);
  CHECK((laws::flow_at_supply(0.9 + 1e-6).factor - laws::flow_at_supply(0.9 - 1e-6).factor) / 2e-6 ==
        Approx(laws::flow_at_supply(0.9).slope));
  CHECK_THROWS_AS(laws::flow_at_supply(0.1), DomainError);
}
