// docs/readings-format.md names every key and range that the readers of readings files take, and its examples are read.
#include <catch2/catch.hpp>

#include "docs/page.hpp"
#include "gas/air.hpp"
#include "hunt/bench.hpp"
#include "hunt/readings/reading.hpp"
#include "read/log_file.hpp"
#include "read/pump_readings_file.hpp"
#include "read/readings_file.hpp"

using namespace airtally;
using Catch::Contains;

namespace {

const std::string& page_of_readings() {
  static const std::string page = test::text_of(AIRTALLY_SOURCE_DIR "/docs/readings-format.md");
  return page;
}

template <typename Read>
std::string said_of(Read read) {
  try {
    read();
  } catch (const BadInput& error) {
    return error.what();
  }
  return "(accepted)";
}

std::string readings_said(const std::string& text) {
  return said_of([&] { read::read_readings_text(text, "r.toml"); });
}
std::string pump_said(const std::string& text) {
  return said_of([&] { read::read_pump_readings_text(text, "p.toml"); });
}
std::string log_said(const std::string& text) {
  return said_of([&] { read::read_log_text(text, "l.csv", gas::standard_pressure); });
}

}  // namespace

TEST_CASE("the readings format's page names every key that is read", "[docs][property]") {
  std::vector<std::string> complaints{readings_said("zzzzzz = 1\n"),
                                      readings_said("[[reading]]\nzzzzzz = 1\n"),
                                      pump_said("format = 1\nzzzzzz = 1\n"),
                                      pump_said("format = 1\n[[reading]]\nzzzzzz = 1\n"),
                                      pump_said("format = 1\ngauge = { zzzzzz = 1 }\n"),
                                      pump_said("format = 1\nsite = { zzzzzz = 1 }\n")};
  for (const char* meter : {"gauge-meter", "plug-gauge", "ammeter", "flow-meter"})
    complaints.push_back(readings_said(std::string(meter) + " = { zzzzzz = 1 }\n"));
  for (const std::string& complaint : complaints) {
    CAPTURE(complaint);
    const std::vector<std::string> keys = test::allowed_in(complaint);
    CHECK_FALSE(keys.empty());
    for (const std::string& key : keys) {
      CAPTURE(key);
      CHECK(test::names(page_of_readings(), key));
    }
  }
}

TEST_CASE("the readings format's page names every range that is allowed", "[docs][property]") {
  std::vector<std::string> ranges;
  for (const char* file : {"core/read/readings_file.cpp", "core/read/plate_limits_private.hpp"})
    for (std::string& range : test::ranges_in(test::text_of(std::string(AIRTALLY_SOURCE_DIR "/") + file)))
      ranges.push_back(std::move(range));
  CHECK(ranges.size() >= 7);
  // Those of limits_private.hpp that these files use, as the readers say them.
  const std::string meters = readings_said(
      "gauge-meter = { accuracy = \"-1 kPa\" }\nammeter = { resolution = \"-1 A\" }\n"
      "flow-meter = { repeatability = \"-1 L/min\" }\ndischarge = 2\n");
  const std::string pump = pump_said(
      "format = 1\nblocked = \"-1 kPa\"\nfree-flow = \"-1 L/min\"\n[[reading]]\nvacuum = \"-1 kPa\"\n"
      "hole = \"-1 mm\"\ndischarge = 2\ncurrent = \"-1 A\"\n");
  const std::regex outside("outside ([^\n]*? \\.\\. [^\n]*?)( \\([^)]*\\))?\\.( [A-Z]|\n|$)");
  std::size_t found = 0;
  for (const std::string& said : {meters, pump})
    for (std::sregex_iterator it(said.begin(), said.end(), outside), end; it != end; ++it, ++found)
      ranges.push_back((*it)[1].str());
  CHECK(found == 10);
  for (const std::string& range : ranges) {
    CAPTURE(range);
    CHECK(page_of_readings().find(range) != std::string::npos);
  }
}

TEST_CASE("the examples of the readings format's page are read as it says", "[docs][closed-form]") {
  const auto files = test::blocks_of(page_of_readings(), "toml");
  REQUIRE(files.size() == 1);
  const line::Notes notes = read::read_readings_text(files[0], "page");
  REQUIRE(notes.list.size() == 3);
  CHECK(notes.blanks == 1);
  CHECK(notes.line == "jewel-setter.toml");
  CHECK(notes.plates == std::vector<double>{0.5e-3, 1e-3});
  CHECK(notes.list[0].value == 67e3);
  CHECK(notes.list[1].hole == 0.5e-3);
  CHECK(notes.list[1].deviation == Approx(0.2e3));
  CHECK(notes.list[2].of == line::Note::Of::current);

  const auto logs = test::blocks_of(page_of_readings(), "csv");
  REQUIRE(logs.size() == 2);
  const line::Log decay = read::read_log_text(logs[0], "page", gas::standard_pressure);
  CHECK(decay.time == std::vector<double>{0.0, 0.5, 1.5});
  CHECK(decay.gaps == 1);
  CHECK(decay.step == Approx(100.0));
  const line::Log rise = read::read_log_text(logs[1], "page", gas::standard_pressure);
  CHECK(rise.time == std::vector<double>{0.0, 30.0, 60.0});
  CHECK(rise.vacuum.back() == Approx(101325.0 - 41250.0));
}

TEST_CASE("what the readings format's page says is refused is refused", "[docs][property]") {
  const std::string reading = "[[reading]]\ncap = \"a\"\n";
  CHECK_THAT(readings_said("[[reading]]\nvacuum = \"60 kPa\"\n"), Contains("what was done to the line?"));
  CHECK_THAT(readings_said("[[reading]]\ntip = \"part\"\nhole = \"1 mm\"\nvacuum = \"60 kPa\"\n"),
             Contains("a drilled plate closes a capped end"));
  CHECK_THAT(readings_said(reading + "vacuum = \"60 kPa\"\ncurrent = \"1 A\"\n"), Contains("a reading for each"));
  CHECK_THAT(readings_said(reading + "plug-vacuum = \"60 kPa\"\nat = \"b\"\n"), Contains("neither 'hole' nor 'at'"));
  CHECK_THAT(readings_said(reading + "decay = \"l.csv\"\nat = \"b\"\n"), Contains("leave 'at' out"));
  for (const char* key : {"shut = \"b\"", "volume = \"1 mL\"", "drift = \"1 K\""})
    CHECK_THAT(readings_said(reading + "vacuum = \"60 kPa\"\n" + key + "\n"), Contains("belongs to a decay log"));
  for (const char* blank : {"\"\"", "\" __ \""}) {
    const line::Notes notes = read::read_readings_text(reading + "vacuum = " + blank + "\n", "r.toml");
    CHECK(notes.list.empty());
    CHECK(notes.blanks == 1);
  }
  CHECK_THAT(pump_said("name = \"p\"\n"), Contains("format"));
  CHECK_THAT(log_said("time_s,vacuum_kPa\n10:15:02,60\n"), Contains("'10:15:02' is no number"));
  CHECK_THAT(log_said("time_s,vacuum_kPa\n0,60\n1,50\n"), Contains("at least 3"));
  CHECK_THAT(log_said("time_s,vacuum_kPa\n0,60\n0,50\n2,40\n"), Contains("does not rise"));
  CHECK_THAT(log_said("time_s,gauge_kPa\n0,60\n1,50\n2,40\n"), Contains("is positive"));
  CHECK_THAT(log_said("time_s,vacuum_kPa\n0,60\n1,50\n2,102\n"), Contains("zero absolute pressure"));
  CHECK_THAT(log_said("time_s,vacuum_kPa\n0,60\n1,50,7\n"), Contains("name every column"));
}

// "where nothing is given": the page's table of instruments.
TEST_CASE("instruments that nothing is said of are as the readings format's page has them", "[docs][property]") {
  const line::Line line = tests::bench_line("current = [[\"0 kPa\", \"0.2 A\"], [\"71 kPa\", \"0.4 A\"]]");
  using hunt::Instrument;
  for (const Instrument gauge : {Instrument::vacuum, Instrument::plugged}) {
    const hunt::Meter meter = hunt::meter_at(line, {}, gauge, 0);
    CHECK(meter.accuracy == 1e3);
    CHECK(meter.resolution == 100.0);
    CHECK(meter.repeatability == 100.0);
  }
  const hunt::Meter ammeter = hunt::meter_at(line, {}, Instrument::current, 0);
  CHECK(ammeter.accuracy == Approx(0.02 * 0.4));
  CHECK(ammeter.resolution == Approx(0.002 * 0.4));
  const hunt::Meter flow = hunt::meter_at(line, {}, Instrument::flow, 0);
  CHECK(flow.accuracy == 0.03);
  CHECK(flow.resolution == Approx(0.001 * line.elements[0].pump->flow.front().value.value));
}
