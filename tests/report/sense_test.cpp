#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "lines/lines.hpp"
#include "report/sense_text.hpp"
#include "report/width.hpp"

using namespace airtally;
using Json = nlohmann::ordered_json;

TEST_CASE("sense says in words what it tells and what looks alike", "[report][sense][property]") {
  line::Line line = test::scenario("jewel-setter");
  const study::Sense sense = study::sense(line);
  std::string flat = report::sense_text(line, sense, {});
  for (char& c : flat) c = c == '\n' ? ' ' : c;
  CHECK_THAT(flat, Catch::Contains("The sensor at the gauge tee tells a held part from a missed one: it feels "));
  CHECK_THAT(flat, Catch::Contains("Safe to decide from "));
  CHECK_THAT(flat, Catch::Contains("An empty nozzle that is clogged by "));
  line.sensor->vacuum_raises = false;
  flat = report::sense_text(line, study::sense(line), {});
  for (char& c : flat) c = c == '\n' ? ' ' : c;
  CHECK_THAT(flat, Catch::Contains("does not tell a held part from a missed one"));
  CHECK_THAT(flat,
             Catch::Contains("In 5 of these 5 states the voltage wanted lies beyond what gets through (50.0 mV to "
                             "1.80 V)."));
  CHECK_THAT(flat, Catch::Contains("No gain lets 99 % of builds work"));
}

TEST_CASE("sense's text fits 80 columns", "[report][sense][property]") {
  for (const char* name : {"jewel-setter", "seed-tray"}) {
    line::Line line = test::scenario(name);
    if (!line.sensor) line.sensor = test::scenario("jewel-setter").sensor;
    std::stringstream text(report::sense_text(line, study::sense(line), {}));
    for (std::string row; std::getline(text, row);) {
      CAPTURE(row);
      CHECK(report::width(row) <= 80);
    }
  }
}

TEST_CASE("sense's JSON carries the answer exactly", "[report][sense][property]") {
  const line::Line line = test::scenario("jewel-setter");
  const study::Sense sense = study::sense(line);
  const Json json = Json::parse(report::sense_json(line, sense));
  CHECK(json["command"] == "sense");
  CHECK(json["at"] == "gauge tee");
  CHECK(json["tells"] == true);
  CHECK(json["threshold"]["vacuum_pa"].get<double>() == sense.threshold);
  CHECK(json["states"][2]["name"] == "part");
  CHECK(json["states"][2]["counts"].get<double>() == sense.states[2].reading.counts);
  CHECK(json["taught"]["false_hold"].get<double>() == sense.taught.false_above);
  CHECK(json["safe_after_s"].get<double>() == sense.safe_after.value());
  CHECK(json["places"].size() == line.elements.size() - 1);
}

TEST_CASE("small odds in words", "[report][sense][property]") {
  CHECK(report::odds(1e-12) == "never in a billion");
  CHECK(report::odds(2.5e-9) == "2.5 times in a billion");
  CHECK(report::odds(8.6e-7) == "860 times in a billion");
  CHECK(report::odds(31.7e-6) == "32 times in a million");
  CHECK(report::odds(0.023) == "2.3 % of the time");
}
