// A drilled plate lets through what it lets through, and not just what its diameter says.
#include "hunt/beliefs/plate.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "hunt/bench.hpp"
#include "hunt/hunt.hpp"
#include "hunt/judgement.hpp"
#include "hunt/logs/look_up.hpp"
#include "laws/conductance.hpp"
#include "read/plates_text.hpp"
#include "read/readings_file.hpp"
#include "units/parse.hpp"

using namespace airtally;
using namespace airtally::hunt;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Reading plated(const line::Line& line, const char* cap, double hole) {
  Reading reading = tests::capped(line, cap);
  reading.setting.hole = hole;
  return reading;
}

/// What the tee's gauge shows of a healthy line whose plate lets through `factor` times what its hole does.
double shown(const line::Line& line, Reading reading, double factor) {
  const double hole[] = {reading.setting.hole};
  const Suspects all = suspects(line, {}, hole);
  std::vector<double> values = all.values(std::vector<double>(all.unknowns.size(), 0.0));
  for (std::size_t k = 0; k < values.size(); ++k)
    if (all.unknowns[k].what == What::plate) values[k] = factor;
  Rig rig(all, line::topology(all.line), reading.setting);
  CHECK_FALSE(rig.has_new_plate());
  rig.solve(values);
  return rig.read(Instrument::vacuum, reading.at, values);
}

}  // namespace

TEST_CASE("a plate's discharge is between a sharp edge's and a thick plate's, nine in ten", "[hunt][literature]") {
  // Perry, Trans. ASME 71 (1949) 757, from memory: 0.61 at small drop, 0.84 when choked.
  const Prior prior = plate_prior({});
  const double usual = laws::hole(1e-3).c / laws::hole(1e-3, 1.0).c;  // the law's own coefficient
  CHECK_THAT(usual * prior.at(-1.645), WithinAbs(0.605, 0.01));
  CHECK_THAT(usual * prior.at(1.645), WithinAbs(0.86, 0.01));
  Bench bench;
  bench.discharge = units::parse("0.80 +- 0.04", units::Dimension::number);
  CHECK_THAT(plate_prior(bench).at(0.0), WithinRel(0.80 / usual, 1e-12));
  CHECK_THAT(std::log(plate_prior(bench).at(1.0) * usual / 0.80), WithinRel(std::hypot(0.025, 0.04), 1e-9));
}

TEST_CASE("a plate's factor is one on its hole alone, on a nozzle as well", "[hunt][closed-form]") {
  const line::Line line = tests::bench_line();  // whose nozzle has seals of its own, for its part
  for (const char* cap : {"tee", "joint", "nozzle"}) {
    CAPTURE(cap);
    const double wider = shown(line, plated(line, cap, 0.5e-3 * std::sqrt(1.3)), 1.0);
    CHECK_THAT(shown(line, plated(line, cap, 0.5e-3), 1.3), WithinAbs(wider, 0.1));
    CHECK(wider < shown(line, plated(line, cap, 0.5e-3), 1.0) - 1000.0);
  }
}

// Taken at its diameter's word, such a plate made the pump that much better than its curve, or the line leak.
TEST_CASE("a plate with a fifth more than its hole's flow blames no one", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  Readings readings;
  for (const char* cap : {"tee", "filter", "joint"})
    for (const double hole : {0.0, 0.8e-3}) {
      readings.list.push_back(plated(line, cap, hole));
      readings.list.back().value = shown(line, readings.list.back(), hole > 0.0 ? 1.2 : 1.0);
    }
  HuntOptions options;
  options.next = 0;
  const Hunt found = hunt::hunt(line, readings, options);
  CHECK(found.quality.chance > 0.2);
  CHECK(amiss(found).empty());
  const auto plate = std::find_if(found.others.begin(), found.others.end(),
                                  [](const Nuisance& n) { return n.unknown.what == What::plate; });
  REQUIRE(plate != found.others.end());
  CHECK(plate->unknown.hole == 0.8e-3);
  CHECK(plate->value.low < 1.2);
  CHECK(plate->value.high > 1.2);
}

TEST_CASE("a plate that was not read with is not known either", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const Suspects all = suspects(line, {});
  const std::vector<double> values = all.values(std::vector<double>(all.unknowns.size(), 0.0));
  const Reading reading = plated(line, "tee", 0.8e-3);
  Rig rig(all, line::topology(all.line), reading.setting);
  REQUIRE(rig.has_new_plate());
  for (const double factor : {1.0, 1.2, 0.8}) {
    rig.set_new_plate(factor);
    rig.solve(values);
    CHECK_THAT(rig.read(Instrument::vacuum, reading.at, values), WithinAbs(shown(line, reading, factor), 0.1));
  }
}

TEST_CASE("tests ask for the plates that are at hand", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const auto asked = [&](const Bench& bench, const std::vector<double>& read_with) {
    std::vector<double> holes;
    for (const NextTest& test : possible_tests(suspects(line, bench, read_with), bench, solve::usual_tips(line)))
      if (test.setting.hole > 0.0 && std::find(holes.begin(), holes.end(), test.setting.hole) == holes.end())
        holes.push_back(test.setting.hole);
    std::sort(holes.begin(), holes.end());
    return holes;
  };
  Bench bench;
  CHECK(asked(bench, {}) == std::vector<double>(std::begin(drills), std::end(drills)));
  CHECK(asked(bench, {0.7e-3}).size() == std::size(drills) + 1);
  bench.plates = {0.7e-3};
  CHECK(asked(bench, {0.8e-3}) == std::vector<double>{0.7e-3});
  bench.plates->clear();
  CHECK(asked(bench, {}).empty());
}

TEST_CASE("plates are listed as they are measured", "[hunt][input]") {
  CHECK(read::plates_in("none").empty());
  const std::vector<double> two = read::plates_in(" 1 mm,500 um, 1 mm");
  REQUIRE(two.size() == 2);
  CHECK_THAT(two[0], WithinRel(0.5e-3, 1e-12));
  for (const auto& [text, sentence] :
       {std::pair("0.5", "unit"), {"0.5 mm,", ""}, {"12 mm", "0.01 mm .. 10 mm"}, {"0.5..1 mm", "not one diameter"}}) {
    CAPTURE(text);
    CHECK_THROWS_WITH(read::plates_in(text), Contains(sentence));
  }
  const line::Line line = tests::bench_line();
  const std::string file = "line = \"bench.toml\"\nplates = \"0.8 mm\"\ndischarge = \"0.8 +- 0.02\"\n";
  const Readings readings = look_up(line, {read::read_readings_text(file, "readings.toml")});
  REQUIRE(readings.bench.plates);
  CHECK(*readings.bench.plates == std::vector<double>{0.8e-3});
  REQUIRE(readings.bench.discharge);
  CHECK_THAT(readings.bench.discharge->value, WithinRel(0.8, 1e-12));
}
