#include "hunt/logs/look_up.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "hunt/bench.hpp"
#include "hunt/fit/evidence.hpp"
#include "hunt/readings/cut.hpp"
#include "line/topology.hpp"
#include "read/readings_file.hpp"

using namespace airtally;
using Catch::Contains;
using Catch::Matchers::WithinRel;

namespace {

std::string trouble(const std::string& text) {
  try {
    hunt::look_up(tests::bench_line(), {read::read_readings_text(text, "r.toml")});
  } catch (const BadInput& error) {
    return error.what();
  }
  return "none";
}

}  // namespace

TEST_CASE("a readings file says what was done and what was read", "[hunt][read][property]") {
  const line::Notes notes = read::read_readings_text(R"(format = 1
line = "bench.toml"
gauge = "tee"
gauge-meter = { repeatability = "0.2 kPa" }
[[reading]]
cap = "joint"
vacuum = "52.3 kPa"
[[reading]]
cap = "filter"
hole = "0.8 mm"
flow = "3.1 L/min"
[[reading]]
tip = "open"
vacuum = ""
[[reading]]
tip = "nozzle=blocked"
vacuum = "400 mbar"
)",
                                                     "r.toml");
  CHECK(notes.line == "bench.toml");
  CHECK(notes.blanks == 1);
  const line::Line line = tests::bench_line();
  const hunt::Readings readings = hunt::look_up(line, {notes});
  REQUIRE(readings.list.size() == 3);
  CHECK(readings.list[0].value == 52300.0);
  CHECK(readings.list[0].setting.cap == line::find(line, "joint"));
  CHECK(readings.list[0].at == *line::find(line, "tee"));
  CHECK(readings.list[1].setting.hole == 0.8e-3);
  CHECK(readings.list[1].instrument == hunt::Instrument::flow);
  CHECK(readings.list[1].at == 0);
  CHECK(readings.list[2].value == 40000.0);
  CHECK(readings.list[2].setting.tips == std::vector{solve::TipState::blocked});
  CHECK(hunt::meter_at(line, readings.bench, hunt::Instrument::vacuum, 2).repeatability == 200.0);
}

TEST_CASE("a readings file that can't be right says where and why", "[hunt][read][property]") {
  CHECK_THAT(trouble("[[reading]]\ncap = \"jont\"\nvacuum = \"5 kPa\"\n"),
             Contains("r.toml:2:7: the line has no element 'jont'") && Contains("Did you mean 'joint'?"));
  CHECK_THAT(trouble("[[reading]]\ncap = \"pump\"\nvacuum = \"5 kPa\"\n"),
             Contains("the instrument at 'tee' is off with the rest"));
  CHECK_THAT(trouble("[[reading]]\nvacuum = \"5 kPa\"\n"), Contains("what was done to the line?"));
  CHECK_THAT(trouble("[[reading]]\ntip = \"shut\"\nvacuum = \"5 kPa\"\n"), Contains("'shut' is no state of a tip"));
  CHECK_THAT(trouble("[[reading]]\ntip = \"open\"\ncurrent = \"5 mA\"\n"), Contains("nothing of the current"));
  CHECK_THAT(trouble("[[reading]]\ntip = \"open\"\nvacuum = \"5 kPa\"\nflow = \"1 L/min\"\n"),
             Contains("more than one of"));
  CHECK_THAT(trouble("[[reading]]\ntip = \"open\"\nhole = \"1 mm\"\nvacuum = \"5 kPa\"\n"),
             Contains("a drilled plate closes a capped end"));
  CHECK_THAT(trouble("[[element]]\nname = \"pump\"\n"), Contains("is a line file"));
}

TEST_CASE("what is written of a reading itself widens it", "[hunt][read][property]") {
  const line::Line line = tests::bench_line();
  const hunt::Readings readings = hunt::look_up(line, {read::read_readings_text(R"(gauge = "tee"
gauge-meter = { accuracy = "0.5 kPa", repeatability = "0.6 kPa" }
[[reading]]
cap = "joint"
vacuum = "52.3 kPa"
[[reading]]
cap = "joint"
vacuum = "52.3 kPa +- 0.8 kPa"
[[reading]]
cap = "joint"
vacuum = "50..53 kPa"
)",
                                                                                "r.toml")});
  REQUIRE(readings.list.size() == 3);
  const hunt::Suspects all = suspects(line, readings.bench);
  const hunt::Evidence evidence(all, readings.list, readings.bench);
  // Two standard deviations of the needle are 0.8 kPa, of the gauge 0.6 kPa; a range is a uniform distribution. The
  // line file has the gauge shown in steps of 0.1 kPa.
  const double step = 100.0 / std::sqrt(12.0);
  CHECK_THAT(evidence.noise()[0], WithinRel(std::hypot(300.0, step), 1e-12));
  CHECK_THAT(evidence.noise()[1], WithinRel(std::hypot(400.0, 300.0, step), 1e-12));
  CHECK(readings.list[2].value == 51500.0);
  CHECK_THAT(evidence.noise()[2], WithinRel(std::hypot(3000.0 / std::sqrt(12.0), 300.0, step), 1e-12));
  CHECK_THAT(trouble("[[reading]]\ncap = \"joint\"\nhole = \"0.7..0.9 mm\"\nvacuum = \"5 kPa\"\n"),
             Contains("r.toml:3:8: reading 1: hole must be a single value, without tolerance or range."));
  CHECK_THAT(trouble("gauge-meter = { accuracy = \"0.5..1 kPa\" }\n[[reading]]\ntip = \"open\"\nvacuum = \"5 kPa\"\n"),
             Contains("accuracy must be a single value"));
}

TEST_CASE("settings are compared by what is on the line", "[hunt][property]") {
  const line::Line one = tests::bench_line(), two = tests::two_nozzles();
  using solve::TipState;
  const auto same = [](const line::Line& line, const hunt::Setting& a, const hunt::Setting& b) {
    const line::Topology topology = line::topology(line);
    return hunt::as_compared(line, topology, a) == hunt::as_compared(line, topology, b);
  };
  const auto behind = [](const line::Line& line, const char* name) { return line::find(line, name); };
  CHECK(same(one, {behind(one, "joint"), 0.0, {TipState::open}}, {behind(one, "joint"), 0.0, {TipState::blocked}}));
  CHECK_FALSE(same(one, {behind(one, "joint"), 0.0, {}}, {behind(one, "joint"), 0.8e-3, {}}));
  CHECK_FALSE(same(one, {{}, 0.0, {TipState::open}}, {{}, 0.0, {TipState::blocked}}));
  CHECK(same(one, {behind(one, "nozzle"), 0.0, {TipState::open}}, {{}, 0.0, {TipState::blocked}}));
  const auto hose = behind(two, "hose one");
  CHECK(same(two, {hose, 0.0, {TipState::open, TipState::part}}, {hose, 0.0, {TipState::part, TipState::part}}));
  CHECK_FALSE(same(two, {hose, 0.0, {TipState::open, TipState::part}}, {hose, 0.0, {TipState::open, TipState::open}}));
}

TEST_CASE("a branch taken off is another setting than its tip blocked, and of a whole fork it is a cap",
          "[hunt][property]") {
  const line::Line one = tests::bench_line(), two = tests::two_nozzles();
  using solve::TipState;
  const auto compared = [](const line::Line& line, const hunt::Setting& setting) {
    return hunt::as_compared(line, line::topology(line), setting);
  };
  const auto at = [](const line::Line& line, const char* name) { return *line::find(line, name); };
  const std::vector<TipState> open(2, TipState::open);
  const hunt::Setting off{{}, 0.0, open, {at(two, "hose one")}};
  CHECK_FALSE(compared(two, off) == compared(two, {at(two, "nozzle one"), 0.0, open}));
  CHECK_FALSE(compared(two, off) == compared(two, {at(two, "hose one"), 0.0, open}));
  // A tip that is off with it has no state.
  CHECK(compared(two, off) == compared(two, {{}, 0.0, {TipState::blocked, TipState::open}, off.off}));
  CHECK(compared(two, off) == compared(two, {{}, 0.0, open, {at(two, "nozzle one"), at(two, "hose one")}}));
  CHECK(compared(two, {{}, 0.0, open, {at(two, "hose one"), at(two, "hose two")}}) ==
        compared(two, {at(two, "tee"), 0.0, open}));
  CHECK(compared(two, {at(two, "tee"), 0.0, open, {at(two, "hose two")}}) ==
        compared(two, {at(two, "tee"), 0.0, open}));
  CHECK(compared(one, {{}, 0.0, {TipState::open}, {at(one, "filter")}}) ==
        compared(one, {at(one, "tee"), 0.0, {TipState::open}}));
}

TEST_CASE("without a branch the line reads as one that never had it", "[hunt][property]") {
  const line::Line two = tests::two_nozzles();
  const line::Topology topology = line::topology(two);
  line::Line one = two;
  one.elements.resize(4);
  const std::vector<solve::TipState> tips(2, solve::TipState::open);
  const hunt::Cut left = hunt::cut(two, topology, {{}, 0.0, tips, {*line::find(two, "hose two")}});
  REQUIRE(left.tips.size() == 1);
  const double expected = solve::steady(one, std::vector{solve::TipState::open}).elements[1].vacuum;
  CHECK_THAT(solve::steady(left.line, left.tips).elements[left.index[1]].vacuum, WithinRel(expected, 1e-12));
  CHECK(expected > 1.2 * solve::steady(two, tips).elements[1].vacuum);  // one nozzle open and not two
}

TEST_CASE("a readings file says which branches were off", "[hunt][read][property]") {
  const line::Line two = tests::two_nozzles();
  const auto look_up = [&](const std::string& text) {
    return hunt::look_up(two, {read::read_readings_text(text, "r.toml")});
  };
  const hunt::Readings readings = look_up("[[reading]]\noff = \"hose two\"\nvacuum = \"60 kPa\"\n");
  REQUIRE(readings.list.size() == 1);
  CHECK(readings.list[0].setting.off == std::vector{*line::find(two, "hose two")});
  const hunt::Readings both = look_up(
      "[[reading]]\noff = [\"nozzle one\", \"hose two\"]\ntip = [\"nozzle one=blocked\"]\nvacuum = \"60 kPa\"\n");
  CHECK(both.list.at(0).setting.off == std::vector{*line::find(two, "nozzle one"), *line::find(two, "hose two")});
  const auto refused = [&](const std::string& keys) {
    try {
      look_up("[[reading]]\n" + keys + "vacuum = \"60 kPa\"\n");
    } catch (const BadInput& error) {
      return std::string(error.what());
    }
    return std::string("none");
  };
  CHECK_THAT(refused("off = \"hose two, hose tree\"\n"), Contains("r.toml:2:7: the line has no element 'hose tree'"));
  CHECK_THAT(refused("off = [7]\n"), Contains("off = [...] is a list of texts"));
  CHECK_THAT(refused("off = \"pump\"\n"), Contains("r.toml:2:7: 'pump' is a source"));
  CHECK_THAT(refused("off = \"hose two\"\ncap = \"nozzle two\"\n"),
             Contains("r.toml:3:7: 'nozzle two' is off with 'hose two'"));
  CHECK_THAT(refused("off = \"tee\"\n"), Contains("with the line without 'tee' the instrument at 'tee' is off"));
}
