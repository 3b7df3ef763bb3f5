#include "hunt/logs/look_up.hpp"

#include <catch2/catch.hpp>

#include "hunt/bench.hpp"
#include "read/readings_file.hpp"

using namespace airtally;
using Catch::Contains;

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
