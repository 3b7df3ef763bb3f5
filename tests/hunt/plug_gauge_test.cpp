#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "hunt/bench.hpp"
#include "hunt/fit/evidence.hpp"
#include "hunt/hunt.hpp"
#include "hunt/judgement.hpp"
#include "hunt/logs/look_up.hpp"
#include "hunt/readings/beside.hpp"
#include "line/variant.hpp"
#include "read/readings_file.hpp"

using namespace airtally;
using namespace airtally::hunt;
using Catch::Contains;
using Catch::Matchers::WithinAbs;

namespace {

Bench with_plug_gauge() {
  Bench bench;
  bench.plug_gauge = Meter{500.0, 0.0, 50.0};
  return bench;
}

Reading plugged(const line::Line& line, const std::string& cap, double vacuum = 0.0) {
  Reading reading = tests::capped(line, cap, vacuum, cap);
  reading.instrument = Instrument::plugged;
  return reading;
}

/// The bench line with its gauge at the far end, where it can't part what is before it.
line::Line gauge_at_the_end() {
  line::Line line = tests::bench_line();
  line.elements[*line::find(line, "nozzle") - 1].gauge = line.elements[*line::find(line, "tee")].gauge;
  line.elements[*line::find(line, "tee")].gauge.reset();
  return line;
}

/// What the instruments of a setting show, without noise, with one element leaking by 500 mL/min.
struct Leaking {
  line::Line line = gauge_at_the_end();
  Bench bench;
  Suspects all;
  std::vector<double> z;

  Leaking(const std::string& culprit, const Bench& on) : bench(on), all(suspects(line, on)) {
    const std::size_t i = *line::find(line, culprit);
    z = tests::with(all, What::leak, i, 500.0 * 1.185 / 60e6 / all.leak_at_one[i]);
  }

  Reading read(const Setting& setting, Instrument instrument, std::size_t at) const {
    Rig rig(all, line::topology(all.line), setting);
    rig.solve(all.values(z));
    return {setting, instrument, at, rig.read(instrument, at, all.values(z)), 0.0, {}};
  }

  /// Takes the first test's readings until there is a verdict or nothing further to do.
  Hunt hunted(int most, int& tests) const {
    Readings readings;
    readings.bench = bench;
    Hunt found = hunt::hunt(line, readings);
    for (tests = 0; tests < most && verdict(found) != Verdict::sure && further_test(found); ++tests) {
      const NextTest& test = found.next.front();
      for (const Dial& dial : test.dials) readings.list.push_back(read(test.setting, dial.instrument, dial.at));
      found = hunt::hunt(line, readings);
    }
    return found;
  }
};

}  // namespace

TEST_CASE("a gauge in the plug reads the vacuum at the capped end", "[hunt][closed-form]") {
  // With next to no leak nothing flows, and the end has what the pump pulls.
  const line::Line line = tests::bench_line();
  const Suspects all = suspects(line, with_plug_gauge());
  std::vector<double> values = all.values(std::vector<double>(all.unknowns.size(), 0.0));
  for (std::size_t k = 0; k < values.size(); ++k) {
    if (all.unknowns[k].what == What::leak) values[k] = 1e-12;
    if (all.unknowns[k].what == What::pump_vacuum) values[k] = 1.0;
  }
  for (const char* cap : {"pump", "hose", "joint"}) {
    const Reading reading = plugged(line, cap);
    Rig rig(all, line::topology(all.line), reading.setting);
    rig.solve(values);
    CHECK_THAT(rig.read(Instrument::plugged, reading.at, values), WithinAbs(71e3, 1.0));
  }
}

TEST_CASE("the loose gauge has one error wherever it is, and exact slopes", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const Bench bench = with_plug_gauge();
  const Suspects all = suspects(line, bench);
  const auto errors = std::count_if(all.unknowns.begin(), all.unknowns.end(), [](const Unknown& u) {
    return u.what == What::offset && u.instrument == Instrument::plugged;
  });
  CHECK(errors == 1);
  const std::vector<Reading> readings{plugged(line, "pump"), plugged(line, "filter"), plugged(line, "nozzle")};
  Evidence evidence(all, readings, bench);
  const std::size_t m = readings.size(), n = all.unknowns.size();
  std::vector<double> z(n, 0.3), r(m), slopes(m * n), off(m);
  REQUIRE(evidence.evaluate(z, r, slopes));
  for (std::size_t k = 0; k < n; ++k) {
    std::vector<double> difference(m, 0.0);
    for (const auto& [steps, weight] : {std::pair(1, 8.0), {-1, -8.0}, {2, -1.0}, {-2, 1.0}}) {
      std::vector<double> there = z;
      there[k] += 0.02 * steps;
      REQUIRE(evidence.evaluate(there, off, {}));
      for (std::size_t i = 0; i < m; ++i) difference[i] += weight * off[i] / (12.0 * 0.02);
    }
    for (std::size_t i = 0; i < m; ++i)
      CHECK_THAT(slopes[i * n + k], WithinAbs(difference[i], 1e-2 + 2e-3 * std::fabs(slopes[i * n + k])));
    if (all.unknowns[k].error_of(Instrument::plugged, 0))
      for (std::size_t i = 1; i < m; ++i) CHECK(slopes[i * n + k] == slopes[k]);
  }
  CHECK(suspects(line, {}).unknowns.size() + 1 == n);  // none where there is no such gauge
}

TEST_CASE("where a line's own gauge can't part the suspects, a loose one is said to", "[hunt][property]") {
  const Leaking own("hose", {});
  int tests = 0;
  const Hunt stuck = own.hunted(8, tests);
  CHECK(tests < 8);
  CHECK(verdict(stuck) != Verdict::sure);
  REQUIRE_FALSE(further_test(stuck));
  REQUIRE(stuck.with_plug_gauge);
  CHECK(stuck.with_plug_gauge->setting.cap);
  CHECK(stuck.with_plug_gauge->setting.hole == 0.0);
  CHECK(stuck.with_plug_gauge->information.bits > 0.2);
  // It is not named to those who have said that there is none.
  Readings readings;
  readings.list.push_back(own.read({*line::find(own.line, "joint"), 0.0, solve::usual_tips(own.line)},
                                   Instrument::vacuum, *line::find(own.line, "joint")));
  HuntOptions options;
  options.without = {{Instrument::plugged, 0}};
  CHECK_FALSE(hunt::hunt(own.line, readings, options).with_plug_gauge);
}

// A head hose that leaks 2430 mL/min, by airtally steady. What a plate at the tee tells then is next to nothing, test
// by test; a gauge in the plug tells nearly one at once.
TEST_CASE("where a line's own gauge tells little, a loose one is said to tell more", "[hunt][property]") {
  const line::Line line = read::read_line(std::string(AIRTALLY_LINES) + "/ejector-head.toml");
  const std::size_t tee = *line::find(line, "gauge tee");
  Readings readings;
  const auto read = [&](double hole, double vacuum) {
    readings.list.push_back({{tee, hole, solve::usual_tips(line)}, Instrument::vacuum, tee, vacuum, 0.0, {}});
  };
  read(0.0, 59.1e3);
  const Hunt before = hunt::hunt(line, readings);
  CHECK(before.next.front().information.bits > 0.25);
  CHECK_FALSE(before.with_plug_gauge);
  read(0.5e-3, 48.3e3);
  const Hunt then = hunt::hunt(line, readings);
  CHECK(then.next.front().information.bits < 0.25);
  REQUIRE(then.with_plug_gauge);
  CHECK(then.with_plug_gauge->information.bits > 0.5);
  CHECK(then.with_plug_gauge->dials.front().instrument == Instrument::plugged);
}

TEST_CASE("with a loose gauge the hunt parts them", "[hunt][property]") {
  for (const char* culprit : {"hose", "filter"}) {
    CAPTURE(culprit);
    int tests = 0;
    const Hunt found = Leaking(culprit, with_plug_gauge()).hunted(6, tests);
    CHECK(verdict(found) == Verdict::sure);
    CHECK(gauge_at_the_end().elements[found.elements.front().element].name == culprit);
  }
}

TEST_CASE("a readings file may have a loose gauge", "[hunt][read][property]") {
  const line::Line line = tests::bench_line();
  const auto looked_up = [&](const std::string& text) {
    return look_up(line, {read::read_readings_text(text, "r.toml")});
  };
  const Readings stated = looked_up(
      "plug-gauge = { accuracy = \"0.3 kPa\", resolution = \"0.01 kPa\" }\n"
      "[[reading]]\ncap = \"pump\"\nplug-vacuum = \"70.2 kPa\"\n");
  REQUIRE(stated.list.size() == 1);
  CHECK(stated.list[0].instrument == Instrument::plugged);
  CHECK(stated.list[0].at == 0);
  CHECK(stated.list[0].value == Approx(70.2e3));
  CHECK(meter_at(line, stated.bench, Instrument::plugged, 0).accuracy == 300.0);
  // A reading alone says that there is one; of common accuracy then.
  const Readings alone = looked_up("[[reading]]\ncap = \"hose\"\nplug-vacuum = \"70.2 kPa\"\n");
  REQUIRE(alone.bench.plug_gauge);
  CHECK(meter_at(line, alone.bench, Instrument::plugged, 1).accuracy == 1e3);
  CHECK_FALSE(looked_up("[[reading]]\ncap = \"tee\"\nvacuum = \"70.2 kPa\"\n").bench.plug_gauge);
  CHECK_THROWS_WITH(looked_up("[[reading]]\ntip = \"open\"\nplug-vacuum = \"70.2 kPa\"\n"),
                    Contains("r.toml:3:15: ") && Contains("reads at the capped end"));
}

TEST_CASE("readings in the plug stand beside the removal test", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const study::Strip strip = study::strip(line, solve::usual_tips(line));
  Readings readings;
  for (std::size_t s = 0; s < strip.steps.size(); ++s) {
    Reading reading = plugged(line, line.elements[strip.steps[s].cap].name);
    reading.value = strip.steps[s].end + 300.0 - (s >= 4 ? 2e3 : 0.0);  // the gauge is 300 Pa off throughout
    readings.list.push_back(reading);
  }
  const BesideAll all = beside(line, strip, readings);
  CHECK(all.list.size() == strip.steps.size());
  REQUIRE(all.worst);
  CHECK(all.list[*all.worst].step == 4);
  CHECK_THAT(all.list[*all.worst].surprise, WithinAbs(-2e3, 1e-6));
}
