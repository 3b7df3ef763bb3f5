#include "laws/current_curve.hpp"

#include <catch2/catch.hpp>

#include "errors.hpp"
#include "support/air.hpp"
#include "support/slopes.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinRel;

namespace {

using support::reference;
const std::vector<CurvePoint> hump{{0.0, 0.30}, {25e3, 0.42}, {50e3, 0.38}, {70e3, 0.33}};

}  // namespace

TEST_CASE("a motor's current passes through its points, rises to a hump and falls", "[laws][closed-form]") {
  const CurrentCurve motor(hump, reference);
  for (const CurvePoint& point : hump)
    CHECK_THAT(motor.at(101325.0 - point.vacuum).amperes, WithinRel(point.value, 1e-14));
  CHECK(motor.at(101325.0 - 10e3).di_dp < 0.0);
  CHECK(motor.at(101325.0 - 40e3).di_dp > 0.0);
  for (double p = 20e3; p < 110e3; p += 500.0) CHECK(motor.at(p).amperes <= 0.42);
}

TEST_CASE("a motor's current has true slopes", "[laws][property]") {
  const CurrentCurve motor(hump, {79495.2, 293.15});
  for (double p = 25.1e3; p < 79e3; p += 501.0) {
    CAPTURE(p);
    CHECK(support::slope_agrees(
        motor.at(p).di_dp, [&](double h) { return motor.at(p + h).amperes; }, 100.0, 1e-12));
  }
}

TEST_CASE("outside its points a motor's current holds", "[laws][property]") {
  const CurrentCurve motor(hump, reference);
  CHECK(motor.at(150e3).amperes == 0.30);
  CHECK(motor.at(150e3).di_dp == 0.0);
  CHECK(motor.at(5e3).amperes == 0.33);
  CHECK(motor.at(5e3).di_dp == 0.0);
}

TEST_CASE("curves that no motor has are refused", "[laws][property]") {
  CHECK_THROWS_AS(CurrentCurve({{0.0, 0.3}}, reference), DomainError);
  CHECK_THROWS_AS(CurrentCurve({{0.0, -0.3}, {10e3, 0.3}}, reference), DomainError);
  CHECK_THROWS_AS(CurrentCurve({{0.0, 0.3}, {110e3, 0.3}}, reference), DomainError);
  CHECK_THROWS_AS(CurrentCurve(hump, {0.0, 293.15}), DomainError);
}
