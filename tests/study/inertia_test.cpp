#include "study/inertia.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "gas/air.hpp"
#include "study/rise.hpp"
#include "support/lines.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

study::Inertia with_damping(double zeta, double settle = 0.1) {
  study::Inertia line;
  line.swing = settle / (2.0 * std::log(20.0) * zeta);
  return study::inertia_effect(line, settle);
}

/// A tube between pump and a volume; the blocked nozzle is next to nothing.
line::Line tube(double bore, double length, double litres, double vacuum, double tip_volume) {
  support::Builder b;
  b.pump("pump", {{0.0, litres}, {vacuum, 0.0}}, 2e-6).tube("hose", bore, length).reservoir("end", tip_volume);
  b.nozzle("nozzle", 0.2e-3, 1e-3, 1e-3);
  return b.line;
}

}  // namespace

// theta of a uniform tube with a volume at its end: (L/c) sqrt(V_t/V_tube + 1/2), c = sqrt(R T) = 290.1 m/s at 20 C.
TEST_CASE("a tube and a volume swing as slowly as the closed form says", "[study][closed-form]") {
  const line::Line line = tube(6e-3, 0.5, 100.0, 80e3, 10e-6);
  const study::Inertia inertia = study::line_inertia(line, line::topology(line));
  const double tube_volume = M_PI / 4 * 6e-3 * 6e-3 * 0.5;
  const double theta = 0.5 / std::sqrt(gas::R * line.site.temperature) * std::sqrt(10e-6 / tube_volume + 0.5);
  CHECK_THAT(inertia.swing, WithinRel(theta, 2e-3));  // the nozzle adds its 0.03 mm3 and its 1 mm
  CHECK_THAT(inertia.travel, WithinRel(0.501 / gas::sound_speed(line.site.temperature), 1e-12));
}

// Step answer of a second-order system, any text on control: at zeta = 1 it is 1 - (1 + x) e^(-x), within 5 % from
// x = 4.7439 on; the overshoot is exp(-pi zeta/sqrt(1 - zeta^2)), 16.30 % at zeta = 0.5; the shortest settle time
// belongs to an overshoot of just 5 %, zeta = 0.69011. Far above 1 the settle time falls by 1/(6 zeta^2): the slow
// root's 1/s = tau - theta^2/tau and the delay of theta^2/tau that the fast root brings, with 3 for ln 20.
TEST_CASE("the effect of inertia is that of the second-order answer", "[study][closed-form]") {
  CHECK_THAT(with_damping(1.0).settle_change, WithinAbs(4.74386 / (2.0 * std::log(20.0)) - 1.0, 1e-5));
  CHECK_THAT(with_damping(0.5).overshoot, WithinAbs(0.16303, 1e-5));
  CHECK(with_damping(1.0).overshoot == 0.0);
  const double large = with_damping(50.0).settle_change;
  CHECK_THAT(large, WithinRel((1.0 / std::log(20.0) - 1.0) / (4.0 * 50.0 * 50.0), 1e-2));
  CHECK_THAT(with_damping(1e4).settle_change, WithinRel(-1.0 / 6e8, 1e-9));
  const double best = with_damping(0.6902).settle_change;
  CHECK(best < with_damping(0.75).settle_change);
  CHECK(best < with_damping(0.6895).settle_change);
  CHECK(with_damping(0.6895).settle_change > best + 0.3);  // the first swing leaves the band again
}

TEST_CASE("the settle time under inertia stays inside the band", "[study][property]") {
  for (double zeta = 0.05; zeta < 40.0; zeta *= 1.13) {
    const study::Inertia effect = with_damping(zeta);
    const double x = (1.0 + effect.settle_change) * 2.0 * zeta * std::log(20.0);  // settle/theta
    // The answer integrated step by step: y'' + 2 zeta y' + y = 0, y(0) = 1, y'(0) = 0, by the midpoint rule.
    double y = 1.0, v = 0.0, last = 0.0;
    const double h = 1e-3, end = 3.0 * x + 10.0;
    for (double t = 0.0; t < end; t += h) {
      const double y_mid = y + 0.5 * h * v, v_mid = v + 0.5 * h * (-2.0 * zeta * v - y);
      y += h * v_mid;
      v += h * (-2.0 * zeta * v_mid - y_mid);
      if (std::fabs(y) > 0.05) last = t + h;
    }
    CAPTURE(zeta, x);
    CHECK_THAT(last, WithinAbs(x, 5e-3 + 1e-4 * x));
  }
}

TEST_CASE("rise warns of inertia when it matters and only then", "[study][property]") {
  study::RiseOptions options;
  options.thermal = solve::Thermal::isothermal;
  const auto rise = [&](const line::Line& line) {
    return study::rise(line, solve::all_tips(line, solve::TipState::blocked), options);
  };
  // An ordinary pump on a wide hose: 82 ms; sound needs 1.5 ms.
  const study::Rise calm = rise(tube(6e-3, 0.5, 30.0, 80e3, 1e-6));
  CHECK(calm.warnings.empty());
  CHECK_THAT(calm.inertia.damping, WithinRel(10.5, 0.02));
  // A strong one: steeper, and sooner there.
  const study::Rise quick = rise(tube(6e-3, 0.5, 200.0, 80e3, 10e-6));
  REQUIRE(quick.warnings.size() == 1);
  CHECK(quick.warnings[0].find("% sooner (damping ratio 1.8)") != std::string::npos);
  // A blower, strong and shallow: the line swings.
  const study::Rise swings = rise(tube(6e-3, 0.5, 200.0, 20e3, 10e-6));
  REQUIRE(swings.warnings.size() == 1);
  CHECK(swings.warnings[0].find("then it swings, beyond the final vacuum by about 16 %") != std::string::npos);
}
