#include <algorithm>
#include <catch2/catch.hpp>

#include "hunt/hunt.hpp"
#include "hunt/judgement.hpp"
#include "read/line_file.hpp"
#include "solve/answer.hpp"

using namespace airtally;
using namespace airtally::hunt;

namespace {

/// jewel-setter capped behind the head hose, where all is well: 389.8 mA and 68.0 kPa, each read once.
struct Capped {
  line::Line line = read::read_line(std::string(AIRTALLY_LINES) + "/jewel-setter.toml");
  Setting setting{*line::find(line, "head hose"), 0.0, solve::usual_tips(line)};
  Readings readings;

  Capped(double current = 0.3898, double vacuum = 68e3) {
    read(Instrument::current, "pump", current);
    read(Instrument::vacuum, "gauge tee", vacuum);
  }
  void read_tip(double vacuum) {
    setting.cap.reset();
    read(Instrument::vacuum, "gauge tee", vacuum);
  }
  void read(Instrument instrument, const char* at, double value) {
    Reading reading;
    reading.setting = setting;
    reading.instrument = instrument;
    reading.at = *line::find(line, at);
    reading.value = value;
    readings.list.push_back(reading);
  }
};

}  // namespace

TEST_CASE("what would not have shown is not looked for where it was looked already", "[hunt][property]") {
  const Capped bench;
  const Hunt found = hunt::hunt(bench.line, bench.readings);
  REQUIRE_FALSE(found.hidden.empty());
  REQUIRE(further_test(found));
  CHECK_FALSE(found.next.front().setting == bench.setting);
}

TEST_CASE("a suspect that no reading had on the line is put there, however little that tells", "[hunt][property]") {
  const Capped bench;
  Hunt found = hunt::hunt(bench.line, bench.readings);
  REQUIRE(found.elements.front().only_prior);
  const std::size_t suspect = found.elements.front().element;
  // However sure the file makes it, and however little a test tells: its own cap is worth making, another's is not.
  found.hidden.clear();
  NextTest test;
  test.setting = {suspect, 0.0, solve::usual_tips(bench.line)};
  found.next = {test};
  CHECK(further_test(found));
  found.next.front().setting.cap = bench.setting.cap;
  CHECK_FALSE(further_test(found));
  found.next.front().setting = {std::nullopt, 0.0, {solve::TipState::blocked}};
  CHECK(further_test(found));
}

// The joint costs most by its design; before the cap 13.7 kPa have gone to someone else.
TEST_CASE("who of several is worse than filed is looked for, also when the worst is known", "[hunt][property]") {
  Capped bench(0.369, 54.3e3);
  bench.read_tip(42.2e3);
  bench.setting.cap = line::find(bench.line, "pump");  // which is as good as its curve
  bench.setting.hole = 0.8e-3;
  bench.read(Instrument::current, "pump", 0.3144);
  const Hunt found = hunt::hunt(bench.line, bench.readings);
  REQUIRE(verdict(found) == Verdict::sure);
  CHECK(bench.line.elements[found.elements.front().element].name == "rotary joint");
  CHECK(still_among(found));
  REQUIRE(further_test(found));
  CHECK(found.next.front().information.bits > 0.1);
  // Once it is told, there is no more to look for.
  Hunt told = found;
  told.amiss_among.resize(1);
  CHECK_FALSE(still_among(told));
}

// The filter lets through a fiftieth of what it is rated for. With the tip covered that raises the gauge as a joint
// that leaks less does; with the tip open far less comes in than the file has it, and the nozzle could as well be
// clogged.
TEST_CASE("what is more than half shut is told of, and who it is looked for", "[hunt][property]") {
  Capped bench(0.390, 68.0e3);
  bench.setting.cap = *line::find(bench.line, "rotary joint");
  bench.read(Instrument::vacuum, "gauge tee", 53.8e3);
  bench.read_tip(53.8e3);
  bench.setting.tips = {solve::TipState::open};
  bench.read_tip(40.6e3);
  const Hunt found = hunt::hunt(bench.line, bench.readings);
  REQUIRE(verdict(found) == Verdict::sure);
  CHECK(bench.line.elements[found.elements.front().element].name == "rotary joint");
  CHECK(still_among(found));
  const auto among = [&](const char* name) {
    return std::count(found.amiss_among.begin(), found.amiss_among.end(), *line::find(bench.line, name)) == 1;
  };
  CHECK(among("filter"));
  CHECK(among("nozzle"));
  CHECK_FALSE(among("rotary joint"));
  CHECK(found.among_shut > 0.9);
  // A known hole before the tip parts what is shut before it from what is shut behind it.
  REQUIRE(further_test(found));
  CHECK(found.next.front().setting.hole > 0.0);
}

// A joint that leaks three times what it is filed with, or a pump that has lost two thirds: the same at all blind caps.
TEST_CASE("a weak pump is a rival of a joint that has grown", "[hunt][property]") {
  Capped bench(0.390, 67.4e3);
  bench.read_tip(31.1e3);
  bench.setting.cap = *line::find(bench.line, "rotary joint");
  bench.read(Instrument::vacuum, "gauge tee", 31.2e3);
  bench.read(Instrument::current, "pump", 0.313);
  const Hunt found = hunt::hunt(bench.line, bench.readings);
  CHECK(bench.line.elements[found.elements.front().element].name == "rotary joint");
  CHECK(verdict(found) == Verdict::rivalled);
  CHECK(std::count(found.rivals.begin(), found.rivals.end(), *line::find(bench.line, "pump")) == 1);
  CHECK(further_test(found));
}

// The file has no gauge; one at the pump is supposed until readings tell otherwise.
TEST_CASE("who reads the ammeter alone is not asked for a gauge that the file doesn't have", "[hunt]") {
  Capped bench(0.3898, 68e3);
  for (line::Element& element : bench.line.elements) element.gauge.reset();
  const auto asks_for_gauge = [&](const Hunt& found) {
    return std::any_of(found.next.begin(), found.next.end(), [](const NextTest& test) {
      return std::any_of(test.dials.begin(), test.dials.end(),
                         [](const Dial& dial) { return dial.instrument == Instrument::vacuum; });
    });
  };
  HuntOptions quick;
  quick.quick = true;
  bench.readings.list.pop_back();
  const Hunt by_current = hunt::hunt(bench.line, bench.readings, quick);
  REQUIRE_FALSE(by_current.next.empty());
  CHECK_FALSE(asks_for_gauge(by_current));
  CHECK(asks_for_gauge(hunt::hunt(bench.line, {}, quick)));
  bench.read(Instrument::vacuum, "pump", 68e3);
  CHECK(asks_for_gauge(hunt::hunt(bench.line, bench.readings, quick)));
}

TEST_CASE("a current in the wrong unit is shown as it was typed, and which it would be", "[hunt]") {
  Capped bench(0.000389, 68e3);
  HuntOptions quick;
  quick.quick = true;
  quick.next = 0;
  const Hunt found = hunt::hunt(bench.line, bench.readings, quick);
  REQUIRE(found.set_aside.size() == 1);
  CHECK(found.set_aside.front().sentence ==
        "0.389 mA is outside what the file says pump draws (210 mA to 390 mA): that would be its current in A, not in "
        "mA.");
}
