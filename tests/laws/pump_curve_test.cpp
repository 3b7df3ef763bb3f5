#include "laws/pump_curve.hpp"

#include <catch2/catch.hpp>

#include "errors.hpp"
#include "support/air.hpp"
#include "support/slopes.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

using support::reference;
const std::vector<CurvePoint> small_pump{{0.0, 8e-5}, {20e3, 6.2e-5}, {40e3, 4e-5}, {60e3, 1.5e-5}, {70e3, 0.0}};

}  // namespace

TEST_CASE("a pump passes through its points at the reference site", "[laws][closed-form]") {
  const PumpCurve pump(small_pump, reference);
  for (const CurvePoint& point : small_pump)
    CHECK_THAT(pump.at(101325.0 - point.vacuum).m, WithinAbs(point.value, 1e-18));
  CHECK_THAT(pump.ultimate(), WithinRel(31325.0, 1e-15));
  CHECK(pump.free_flow() == 8e-5);
}

TEST_CASE("two points are a straight line in vacuum", "[laws][closed-form]") {
  const PumpCurve pump({{0.0, 1e-4}, {80e3, 0.0}}, reference);
  for (double v = 0.0; v < 80e3; v += 5e3) {
    CHECK_THAT(pump.at(101325.0 - v).m, WithinAbs(1e-4 * (1.0 - v / 80e3), 1e-17));
    CHECK_THAT(pump.at(101325.0 - v).dm_dp, WithinRel(1e-4 / 80e3, 1e-12));
  }
}

TEST_CASE("a pump's flow rises with inlet pressure and has true slopes", "[laws][property]") {
  for (const gas::Site& site : {reference, gas::Site{79495.0, 308.15}}) {
    const PumpCurve pump(small_pump, site, 0.9);
    double before = 0.0;
    for (double p = pump.ultimate() + 1.0; p < site.pressure; p += 97.0) {
      const PumpFlow flow = pump.at(p);
      CAPTURE(p);
      REQUIRE(flow.m > before);
      REQUIRE(flow.dm_dp > 0.0);
      CHECK(support::slope_agrees(
          flow.dm_dp, [&](double h) { return pump.at(p + h).m; }, std::min(p - pump.ultimate(), 1e3), 1e-16));
      before = flow.m;
    }
  }
}

TEST_CASE("outside its points a pump gives free flow or nothing", "[laws][property]") {
  const PumpCurve pump(small_pump, reference);
  CHECK(pump.at(120e3).m == pump.free_flow());
  CHECK(pump.at(120e3).dm_dp == 0.0);
  CHECK(pump.at(pump.ultimate() - 1e-6).m == 0.0);
  CHECK(pump.at(pump.ultimate() - 1e-6).dm_dp == 0.0);
  CHECK_THAT(pump.at(pump.ultimate()).m, WithinAbs(0.0, 1e-18));
  CHECK(pump.at(pump.ultimate()).dm_dp >= 1.5e-5 / 10e3);  // never flatter than the last chord
  CHECK(pump.at(reference.pressure).dm_dp > 0.0);
  // The first point's flow holds up to zero vacuum.
  const PumpCurve late({{10e3, 5e-5}, {70e3, 0.0}}, reference);
  CHECK(late.at(101325.0).m == 5e-5);
  CHECK(late.at(95e3).m == 5e-5);
}

TEST_CASE("at altitude a pump's flow depends on the ratio of pressures", "[laws][closed-form]") {
  const PumpCurve low(small_pump, reference);
  const gas::Site high_site{79495.2, 283.15};
  const PumpCurve high(small_pump, high_site);
  const double thin = 79495.2 / 101325.0;
  CHECK_THAT(high.ultimate(), WithinRel(low.ultimate() * thin, 1e-14));
  for (double p = 32e3; p < 101e3; p += 3e3) {
    CHECK_THAT(high.at(p * thin).m, WithinRel(low.at(p).m * thin * 293.15 / 283.15, 1e-12));
    // The same volume per second, measured at the inlet: what a displacement pump does.
    const double volume_low = low.at(p).m * 293.15 / p;
    const double volume_high = high.at(p * thin).m * 283.15 / (p * thin);
    CHECK_THAT(volume_high, WithinRel(volume_low, 1e-12));
  }
}

TEST_CASE("speed multiplies a pump's flow", "[laws][closed-form]") {
  const PumpCurve full(small_pump, reference);
  const PumpCurve half(small_pump, reference, 0.5);
  const PumpCurve stopped(small_pump, reference, 0.0);
  CHECK(half.ultimate() == full.ultimate());
  for (double p = 32e3; p < 101e3; p += 3e3) {
    CHECK_THAT(half.at(p).m, WithinRel(0.5 * full.at(p).m, 1e-14));
    CHECK(stopped.at(p).m == 0.0);
  }
}

TEST_CASE("curves that no pump has are refused", "[laws][property]") {
  const auto refused = [](const std::vector<CurvePoint>& points) {
    CHECK_THROWS_AS(PumpCurve(points, reference), DomainError);
  };
  refused({{0.0, 1e-4}});
  refused({{0.0, 1e-4}, {50e3, 1e-6}});               // does not end with no flow
  refused({{0.0, 1e-4}, {50e3, 2e-4}, {60e3, 0.0}});  // rises
  refused({{0.0, 1e-4}, {50e3, 0.0}, {60e3, 0.0}});   // where does it end?
  refused({{0.0, 1e-4}, {0.0, 5e-5}, {60e3, 0.0}});
  refused({{-1.0, 1e-4}, {60e3, 0.0}});
  refused({{0.0, 1e-4}, {101325.0, 0.0}});
  CHECK_THROWS_AS(PumpCurve(small_pump, {0.0, 293.15}), DomainError);
  CHECK_THROWS_AS(PumpCurve(small_pump, reference, -1.0), DomainError);
}
