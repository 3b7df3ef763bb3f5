#include "laws/turning.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "errors.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using std::numbers::pi;

namespace {
const laws::TurningMotor motor{20.0, 500.0};
}

// The fastest speed at x of a way of length X is the least of what speeding up, the motor and slowing down in time
// allow: sqrt(2 a x), v, sqrt(2 a (X - x)). The time is the integral of dx over it, here over s = sqrt(x) of one half.
TEST_CASE("turning takes as long as the fastest speed at every place allows", "[laws][closed-form]") {
  for (const double angle : {0.1, 0.79, 0.81, 2.0, 7.0}) {
    const double top = std::sqrt(0.5 * angle);
    constexpr int steps = 200000;
    double time = 0.0;
    for (int k = 0; k < steps; ++k) {
      const double s = (k + 0.5) / steps * top;
      time += 2.0 * 2.0 * s / std::min(std::sqrt(2.0 * motor.acceleration) * s, motor.speed) * (top / steps);
    }
    CAPTURE(angle);
    CHECK_THAT(laws::turning_time(angle, motor).time, WithinRel(time, 1e-6));
    CHECK(laws::turning_time(-angle, motor).time == laws::turning_time(angle, motor).time);
  }
}

TEST_CASE("turning time is continuous where the speed is reached, and its slope true", "[laws][property]") {
  const double corner = 20.0 * 20.0 / 500.0;
  CHECK_THAT(laws::turning_time(corner * (1 + 1e-9), motor).time,
             WithinRel(laws::turning_time(corner, motor).time, 1e-8));
  for (const double angle : {0.2, 0.5, 1.0, 3.0}) {
    const double step = 1e-6;
    const double chord =
        (laws::turning_time(angle + step, motor).time - laws::turning_time(angle - step, motor).time) / (2 * step);
    CHECK_THAT(laws::turning_time(angle, motor).slope, WithinRel(chord, 1e-6));
  }
  CHECK(laws::turning_time(0.0, motor).time == 0.0);
  CHECK_THROWS_AS(laws::turning_time(1.0, {0.0, 1.0}), DomainError);
}

TEST_CASE("the shortest way is never more than half a turn", "[laws][property]") {
  CHECK_THAT(laws::shortest_way(1.5 * pi), WithinAbs(-0.5 * pi, 1e-12));
  CHECK_THAT(laws::shortest_way(-pi), WithinAbs(pi, 1e-12));
  CHECK_THAT(laws::shortest_way(7.25 * pi), WithinAbs(-0.75 * pi, 1e-12));
  CHECK(laws::shortest_way(0.3) == 0.3);
}
