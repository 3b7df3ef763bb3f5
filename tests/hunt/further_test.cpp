#include <catch2/catch.hpp>

#include "hunt/hunt.hpp"
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

  Capped() {
    read(Instrument::current, "pump", 0.3898);
    read(Instrument::vacuum, "gauge tee", 68e3);
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
