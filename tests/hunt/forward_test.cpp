#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "hunt/beliefs/plate.hpp"
#include "hunt/bench.hpp"
#include "hunt/fit/evidence.hpp"
#include "line/variant.hpp"
#include "study/random.hpp"

using namespace airtally;
using namespace airtally::hunt;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("slopes of readings agree with differences of solved lines", "[hunt][property]") {
  const line::Line line = tests::bench_line("current = [[\"0 kPa\", \"210 mA\"], [\"71 kPa\", \"390 mA\"]]");
  const Bench bench;
  std::vector<Reading> readings;
  for (const char* cap : {"tee", "joint", "nozzle"}) readings.push_back(tests::capped(line, cap));
  for (const double hole : {0.8e-3, 0.5e-3}) {
    readings.push_back(readings.front());
    readings.back().setting.hole = hole;
  }
  const Suspects all = suspects(line, bench, plates_of(readings));
  Reading open = readings.front();
  open.setting = {{}, 0.0, {solve::TipState::open}};
  readings.push_back(open);
  open.setting.tips = {solve::TipState::part};
  readings.push_back(open);
  for (Instrument instrument : {Instrument::current, Instrument::flow}) {
    open.instrument = instrument;
    open.at = 0;
    readings.push_back(open);
  }
  Evidence evidence(all, readings, bench);
  const std::size_t m = readings.size(), n = all.unknowns.size();
  study::Random random(11);
  for (int trial = 0; trial < 20; ++trial) {
    std::vector<double> z(n), r(m), slopes(m * n);
    for (double& value : z) value = 4.0 * random.uniform() - 2.0;
    REQUIRE(evidence.evaluate(z, r, slopes));
    for (std::size_t k = 0; k < n; ++k) {
      std::vector<double> there = z, difference(m, 0.0), off(m);
      // Differences of the fourth order; a step at which a hundredth of a pascal, the solver's aim here, shows little.
      const double step = 0.04;
      for (const auto& [steps, weight] : {std::pair(1, 8.0), {-1, -8.0}, {2, -1.0}, {-2, 1.0}}) {
        there[k] = z[k] + steps * step;
        REQUIRE(evidence.evaluate(there, off, {}));
        for (std::size_t i = 0; i < m; ++i) difference[i] += weight * off[i] / (12.0 * step);
      }
      for (std::size_t i = 0; i < m; ++i) {
        CAPTURE(trial, k, i, z[k]);
        CHECK_THAT(slopes[i * n + k], WithinAbs(difference[i], 3e-3 + 2e-3 * std::fabs(slopes[i * n + k])));
      }
    }
  }
}

TEST_CASE("a leak of a known hole is what a drilled plate adds", "[hunt][property]") {
  // The plate must not be counted as the element's own leak, whatever factor that has.
  const line::Line line = tests::bench_line();
  const Suspects all = suspects(line, {});
  const line::Topology topology = line::topology(all.line);
  const std::size_t joint = *line::find(line, "joint"), tee = *line::find(line, "tee");
  std::vector<double> none = all.values(std::vector<double>(all.unknowns.size(), 0.0));
  for (std::size_t k = 0; k < none.size(); ++k)
    if (all.unknowns[k].what == What::leak) none[k] = 1e-12;
  Rig plate(all, topology, {joint, 0.5e-3, {}});
  plate.solve(none);
  line::Line drilled = all.line;
  for (line::Element& e : drilled.elements) e.leaks.clear();
  drilled.elements[joint].leaks = {line::Hole{0.5e-3}};
  line::Capped capped = line::cap(drilled, line::topology(drilled), joint);
  const line::Topology cut = line::topology(capped.line, false);
  solve::Network network(capped.line, cut, {});
  for (std::size_t k = 0; k < all.unknowns.size(); ++k) {
    const Unknown& unknown = all.unknowns[k];
    if (unknown.what == What::pump_flow) network.sources[0].flow_factor = none[k];
    if (unknown.what == What::pump_vacuum) network.sources[0].vacuum_factor = none[k];
    if (unknown.what == What::blockage && capped.index[unknown.element] != line::none)
      for (int path : network.paths_of[capped.index[unknown.element]])
        if (network.paths[path].role == solve::Role::restriction) network.paths[path].scale = none[k];
  }
  solve::Steady steady(network);
  solve::Pressures x;
  steady.solve(network, x);
  const double expected = network.ambient - x.p[network.node_of[capped.index[tee]]];
  CHECK_THAT(plate.read(Instrument::vacuum, tee, none), WithinAbs(expected, 0.1));
  CHECK(expected > 10e3);
}

TEST_CASE("mending the element with the leak gains most", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const Suspects all = suspects(line, {});
  for (std::size_t culprit = 0; culprit < line.elements.size(); ++culprit) {
    const double flow = 600e-6 / 60.0 * 1.185;  // 600 mL/min of free air
    const auto z = tests::with(all, What::leak, culprit, flow / all.leak_at_one[culprit]);
    const std::vector<double> values = all.values(z);
    Rig rig(all, line::topology(all.line), {{}, 0.0, solve::usual_tips(line)});
    rig.solve(values);
    std::vector<double> gain;
    for (std::size_t i = 0; i < line.elements.size(); ++i) gain.push_back(rig.gain(i, values));
    CAPTURE(culprit, gain);
    CHECK(std::max_element(gain.begin(), gain.end()) - gain.begin() == static_cast<std::ptrdiff_t>(culprit));
    CHECK(gain[culprit] > 2e3);
  }
}
