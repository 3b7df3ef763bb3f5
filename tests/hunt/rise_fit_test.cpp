#include "hunt/logs/rise_fit.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "laws/conductance.hpp"
#include "laws/duct.hpp"
#include "laws/passage.hpp"
#include "laws/pump_curve.hpp"
#include "solve/answer.hpp"
#include "support/lines.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using solve::TipState;

namespace {

constexpr double hose_bore = 4e-3, hose_length = 0.06, pump_volume = 8e-6, tank = 40e-6;

/// A pump, a short wide hose and a reservoir with a nozzle: two volumes, as the hose is too short to be cut.
line::Line bench() {
  support::Builder b;
  b.pump("pump", {{0.0, 8.0}, {70e3, 0.0}}, pump_volume).tube("hose", hose_bore, hose_length);
  b.reservoir("tank", tank).nozzle("nozzle", 0.6e-3, 5e-3, 1.6e-3);
  return b.line;
}

/// A log of the tank's vacuum made without any of our solvers: three volumes, isothermal, the classical Runge-Kutta
/// rule in steps of 20 us, law functions alone.
line::Log recorded(double volume, double flow, double noise, unsigned seed) {
  const line::Line line = bench();
  const gas::Air air = gas::air_at(line.site.temperature);
  const double ambient = line.site.pressure;
  const laws::PumpCurve pump({{0.0, support::free_litres(8.0)}, {70e3, 0.0}}, line.site, flow);
  const double half_hose = 0.5 * M_PI / 4 * hose_bore * hose_bore * hose_length;
  const double half_nozzle = 0.5 * M_PI / 4 * 0.6e-3 * 0.6e-3 * 5e-3;
  const std::array<double, 2> volumes{volume * (pump_volume + half_hose), volume * (tank + half_hose + half_nozzle)};
  // The hose's end losses: 1.0 into the pump's volume, 0.5 out of the tank (and the same the other way round).
  const laws::Duct hose{hose_bore, hose_length, 0.0, 1.5, 1.5};
  const laws::Passage nozzle{0.6e-3, 5e-3, 0.0, 0.5};
  const auto rate = [&](const std::array<double, 2>& p) {
    const double m = laws::duct(hose, {p[1], p[0]}, air).m;
    return std::array<double, 2>{(m - pump.at(p[0]).m) * air.rt / volumes[0],
                                 (laws::passage(nozzle, {ambient, p[1]}, air).m - m) * air.rt / volumes[1]};
  };
  std::mt19937 random(seed);
  std::normal_distribution<double> error(0.0, noise);
  line::Log log;
  std::array<double, 2> p{ambient, ambient};
  const double h = 2e-5;
  for (int k = 0; k <= 80000; ++k) {
    if (k % 400 == 0) {
      log.time.push_back(h * k);
      log.vacuum.push_back(ambient - p[1] + error(random));
    }
    const auto ahead = [&](const std::array<double, 2>& slope, double by) {
      return std::array<double, 2>{p[0] + by * slope[0], p[1] + by * slope[1]};
    };
    const auto k1 = rate(p), k2 = rate(ahead(k1, 0.5 * h)), k3 = rate(ahead(k2, 0.5 * h)), k4 = rate(ahead(k3, h));
    for (std::size_t i = 0; i < 2; ++i) p[i] += h / 6.0 * (k1[i] + 2 * k2[i] + 2 * k3[i] + k4[i]);
  }
  return log;
}

hunt::RiseFit fit(const line::Log& log) {
  const line::Line line = bench();
  return hunt::fit_rise(line, solve::all_tips(line, TipState::open), 2, log, solve::Thermal::isothermal, 2);
}

}  // namespace

TEST_CASE("a log of the line itself fits with factors of one", "[hunt][agreement]") {
  const hunt::RiseFit same = fit(recorded(1.0, 1.0, 0.0, 1));
  CHECK(same.before.rms < 2.0);  // of 40 kPa
  REQUIRE(same.volume);
  CHECK_THAT(same.volume->value, WithinAbs(1.0, 2e-4));
  CHECK_THAT(same.pump_flow->value, WithinAbs(1.0, 2e-4));
}

// 60 logs with 300 Pa of noise, volumes a quarter too large and a pump that has lost 15 %: the truth must lie within
// one error of the fit in about 68 %, within two in about 95 % of them. Of 120 factors 82 and 115 are expected; the
// bounds are three standard deviations of the binomial count (5.1 and 2.4).
TEST_CASE("planted factors are recovered within their errors", "[hunt][agreement]") {
  const line::Log clean = recorded(1.25, 0.85, 0.0, 1);
  std::mt19937 random(11);
  std::normal_distribution<double> error(0.0, 300.0);
  int within_one = 0, within_two = 0;
  for (int run = 0; run < 60; ++run) {
    line::Log log = clean;
    for (double& v : log.vacuum) v += error(random);
    const hunt::RiseFit found = fit(log);
    REQUIRE(found.volume);
    CHECK(found.before.rms > 1000.0);
    CHECK_THAT(found.after.rms, WithinAbs(300.0, 75.0));
    CHECK(found.volume->error < 0.02);
    for (const auto& [factor, truth] : {std::pair{*found.volume, 1.25}, std::pair{*found.pump_flow, 0.85}}) {
      within_one += std::fabs(factor.value - truth) < factor.error;
      within_two += std::fabs(factor.value - truth) < 2.0 * factor.error;
    }
  }
  CAPTURE(within_one, within_two);
  CHECK(within_one > 82 - 16);
  CHECK(within_one < 82 + 16);
  CHECK(within_two >= 115 - 8);
}

// Without any inflow only volume over flow can be told: the log is the same for twice of both.
TEST_CASE("a tight line tells only the ratio of volume and pump", "[hunt][property]") {
  support::Builder b;
  b.pump("pump", {{0.0, 8.0}, {70e3, 0.0}}, 40e-6).nozzle("nozzle", 0.6e-3, 5e-3, 1.6e-3);
  const auto tips = solve::all_tips(b.line, TipState::blocked);
  line::Log log;
  for (int k = 0; k <= 100; ++k) log.time.push_back(0.005 * k);
  study::CourseOptions twice;
  twice.factors = {2.0, 2.0};
  twice.thermal = solve::Thermal::isothermal;
  log.vacuum = study::course(b.line, tips, 0, log.time, twice);
  const hunt::RiseFit found = hunt::fit_rise(b.line, tips, 0, log, solve::Thermal::isothermal, 2);
  CHECK(found.before.rms < 5.0);
  CHECK_FALSE(found.volume);
  CHECK_FALSE(found.pump_flow);
}
