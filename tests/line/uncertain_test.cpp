#include "line/uncertain.hpp"

#include <catch2/catch.hpp>
#include <set>

#include "line/quantities.hpp"
#include "lines/lines.hpp"
#include "study/cycle_plan.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;
using units::Quantity;

namespace {

/// The catalogue is not sure of its filter's leak.
const std::string sure = "filter.leak.rated=0.5 mL/min";

/// A scenario with other values.
line::Line with(const std::vector<std::string>& sets, const std::string& name = "jewel-setter") {
  std::vector<read::Change> changes;
  // Its bench is not sure of its sensor's zero.
  if (name == "jewel-setter") changes.push_back(read::change_of("sensor.zero=0 mV"));
  for (const std::string& set : sets) changes.push_back(read::change_of(set));
  return read::read_line(std::string(AIRTALLY_LINES) + "/" + name + ".toml", {}, changes);
}

Quantity at(const line::Line& line, const std::string& path) {
  line::Line copy = line;
  std::optional<Quantity> found;
  line::each_quantity(copy, [&](const line::QuantityName& name, const Quantity& q, units::Dimension) {
    if (name.path() == path) found = q;
  });
  return found.value();
}

}  // namespace

TEST_CASE("without their names the same quantities are visited, in the same order", "[line][property]") {
  for (const char* name : {"jewel-setter", "jewel-setter-twist", "ejector-head", "two-spindle-sorter", "seed-tray"}) {
    line::Line line = test::scenario(name);
    std::vector<const Quantity*> named, plain;
    line::each_quantity(line,
                        [&](const line::QuantityName&, const Quantity& q, units::Dimension) { named.push_back(&q); });
    line::each_number(line, [&](const Quantity& q) { plain.push_back(&q); });
    CHECK(named == plain);
    CHECK(plain.size() > 60);
  }
}

TEST_CASE("every quantity has one name, and that name sets it", "[line][property]") {
  for (const char* scenario : {"jewel-setter", "two-spindle-sorter"}) {
    line::Line line = test::scenario(scenario);
    std::set<std::string> names;
    std::vector<std::pair<std::string, Quantity>> all;
    line::each_quantity(line, [&](const line::QuantityName& name, const Quantity& q, units::Dimension) {
      const std::string path = name.path();
      CAPTURE(path);
      CHECK(names.insert(path).second);
      all.emplace_back(path, q);
    });
    CHECK(all.size() > 60);
    std::size_t set = 0;
    for (const auto& [path, quantity] : all) {
      CAPTURE(path);
      // A value that the reader bounds is one that the file may have: any value within is taken under that name. The
      // unit is left to the reader's own message, so plain numbers alone are set here.
      if (quantity.most > 1.0 + 1e-12 || quantity.least != 0.0 || quantity.most < 0.9) continue;
      if (path.find("eccentricity") == std::string::npos && path.find("ratio") == std::string::npos) continue;
      const line::Line changed = with({path + "=0.25"}, scenario);
      CHECK(at(changed, path).value == 0.25);
      ++set;
    }
    CHECK(set > 0);
  }
}

TEST_CASE("the uncertain values of a line are those with a tolerance or a range", "[line][property]") {
  const auto all =
      line::uncertain(with({sure, "rotary joint.leak.clearance=20..45 um", "pump.curve[2].flow=4.6 L/min +- 5 %"}));
  REQUIRE(all.size() == 3);
  CHECK(all[0].path == "pump.curve[2].flow");
  CHECK(all[1].path == "rotary joint.leak.clearance");
  CHECK(all[1].quantity.spread == units::Spread::uniform);
  CHECK(all[2].path == "part.gap");
  CHECK(all[2].quantity.spread == units::Spread::normal);
  CHECK(line::uncertain(with({sure, "part.gap=4 um"})).empty());
}

TEST_CASE("a drawn value lies where its fraction says", "[line][closed-form]") {
  const Quantity range = Quantity::uniform(20.0, 45.0);
  CHECK(line::drawn(range, 0.5) == 32.5);
  CHECK(line::drawn(range, 0.2) == 25.0);
  // Two standard deviations: the normal distribution has 0.97724987 below (printed tables: 0.97725).
  const Quantity tolerance = Quantity::normal(10.0, 2.0);
  CHECK_THAT(line::drawn(tolerance, 0.977249868051821), WithinRel(12.0, 1e-12));
  CHECK_THAT(line::drawn(tolerance, 0.5), WithinRel(10.0, 1e-15));
  CHECK(line::drawn(Quantity(3.0), 0.1) == 3.0);
  // A normal distribution about its own lower limit is the upper half: its median is the 75 % point, 0.67449 sigma.
  Quantity half = Quantity::normal(0.0, 2.0);
  half.least = 0.0;
  CHECK_THAT(line::drawn(half, 0.5), WithinRel(0.674489750196082, 1e-12));
  for (const double u : {1e-16, 1e-9, 0.3, 1.0 - 1e-9, 1.0 - 1e-16}) CHECK(line::drawn(half, u) >= 0.0);
}

TEST_CASE("a sampled line is exact, within its limits and could be built", "[line][property]") {
  // The curve's points overlap, the clearance reaches near half the diameter, the roughness beyond a tenth of the
  // bore: drawn one by one they could not stand.
  const line::Line line =
      with({sure, "pump.curve[2].vacuum=20..58 kPa", "pump.curve[3].vacuum=30..69 kPa", "pump.curve[2].flow=1..7 L/min",
            "pump.curve[3].flow=0.5..6 L/min", "nozzle.bore=1.0 mm +- 0.9 mm", "nozzle.rim=1.8 mm +- 0.5 mm",
            "nozzle.roughness=0.02..0.1 mm"});
  const std::size_t n = line::uncertain(line).size();
  REQUIRE(n == 8);
  for (int corner = 0; corner < (1 << 8); ++corner) {
    std::vector<double> u(n);
    for (std::size_t i = 0; i < n; ++i) u[i] = (corner >> i) & 1 ? 1.0 - 1e-6 : 1e-6;
    const line::Line sample = line::sampled(line, u);
    CHECK(line::uncertain(sample).empty());
    const auto answer = solve::steady(sample, solve::all_tips(sample, solve::TipState::part));
    CHECK(answer.tips[0].mouth_vacuum > 0.0);
  }
  const line::Line exact = with({sure, "part.gap=4 um"});
  const line::Line same = line::sampled(exact, {});
  CHECK(solve::steady(same, solve::usual_tips(same)).tips[0].mouth_vacuum ==
        solve::steady(exact, solve::usual_tips(exact)).tips[0].mouth_vacuum);
}

TEST_CASE("a leak is never drawn as measured at no pressure at all", "[line][property]") {
  // At 2000 m the room has 79.5 kPa; the tolerance reaches 79 kPa, and a draw beyond it. So does the porosity's.
  const line::Line line = with({sure, "site.altitude=2000 m", "supply hose.leak.at=55 +- 24 kPa", "part.gap=4 um",
                                "part.porosity={ rated = \"20 mL/min\", at = \"50 +- 29 kPa\", law = \"orifice\" }"});
  REQUIRE(line::uncertain(line).size() == 2);
  for (const double u : {1e-9, 0.5, 1.0 - 1e-9}) {
    const line::Line sample = line::sampled(line, std::vector<double>{u, u});
    const auto& leak = std::get<line::RatedLeak>(sample.elements[1].leaks.front());
    CHECK(leak.at.value > 0.0);
    CHECK(leak.at.value < line.site.pressure);
    CHECK(sample.part->porosity->at.value < line.site.pressure);
    CHECK(solve::steady(sample, solve::usual_tips(sample)).tips[0].mouth_vacuum > 0.0);
  }
  // Carried higher up, it was measured where it stood: that is the pressure which its draws stay below.
  const line::Line high = line::carried_to(line, 60e3);
  const line::Line sample = line::sampled(high, std::vector<double>{0.9, 0.9});
  CHECK(std::get<line::RatedLeak>(sample.elements[1].leaks.front()).at.value > 60e3);
}

TEST_CASE("a cycle's moments are drawn in their order however their tolerances overlap", "[line][property]") {
  const line::Line line =
      with({sure, "part.gap=4 um", "cycle.valve-on=60 +- 30 ms", "cycle.touch=60 +- 30 ms", "cycle.lift=80 +- 30 ms",
            "cycle.place=600 +- 300 ms", "cycle.release=600 +- 300 ms", "cycle.retract=750 +- 300 ms",
            "cycle.period=1.2 +- 0.3 s", "valve.opens=100 +- 90 ms", "valve.closes=100 +- 90 ms"});
  const std::size_t n = line::uncertain(line).size();
  REQUIRE(n == 9);
  for (int corner = 0; corner < (1 << 9); ++corner) {
    std::vector<double> u(n);
    for (std::size_t i = 0; i < n; ++i) u[i] = (corner >> i) & 1 ? 1.0 - 1e-6 : 1e-6;
    const line::Line sample = line::sampled(line, u);
    const line::Cycle& cycle = *sample.cycle;
    CHECK(cycle.lift->value >= std::max(cycle.touch.value, cycle.valve_on.value));
    CHECK(cycle.place.value >= cycle.lift->value);
    CHECK(cycle.retract->value >= std::max(cycle.place.value, cycle.release->value));
    CHECK(cycle.period->value >= cycle.retract->value);
    CHECK_NOTHROW(study::plan(sample));
    if (corner == 0) CHECK(cycle.lift->value < 0.06);  // what is in order stays as it was drawn
  }
  // Those that the file has out of order are not drawn, but told (tests/study/cycle_test.cpp).
  CHECK(with({"cycle.lift=50 ms"}).cycle->lift->value == 0.05);
}

TEST_CASE("a line drawn in the last one's place is the line drawn anew", "[line][property]") {
  // The overlapping curve and the wide clearance of above: what one draw pushed aside must be back for the next.
  const line::Line line = with({sure, "pump.curve[2].vacuum=20..58 kPa", "rotary joint.leak.clearance=20..45 um",
                                "nozzle.bore=1.0 mm +- 0.9 mm", "nozzle.roughness=0.02..0.1 mm"});
  const std::size_t n = line::uncertain(line).size();
  REQUIRE(n == 5);
  line::Sampler sampler(line);
  for (const double place : {0.999, 0.001, 0.5, 0.9, 0.1}) {
    std::vector<double> u(n, place);
    for (std::size_t turn = 0; turn < n; ++turn, u[turn % n] = 1.0 - place) {
      line::Line anew = line::sampled(line, u), again = sampler.at(u);
      std::vector<double> one, other;
      line::each_number(anew, [&](const Quantity& q) { one.push_back(q.value); });
      line::each_number(again, [&](const Quantity& q) { other.push_back(q.value); });
      CHECK(one == other);
      CHECK(line::uncertain(again).empty());
    }
  }
}
