#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "lines/lines.hpp"
#include "report/sense_text.hpp"
#include "report/verdicts.hpp"
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
  CHECK_THAT(flat, Catch::Contains("but both come out as 50.0 mV, count 16. There is no moment after touch"));
  CHECK_THAT(flat, Catch::Contains("No reading tells \"open\", \"half covered\", \"part\", \"part, leaking\" and "
                                   "\"blocked\" from each other: all come out as 50.0 mV, count 16."));
  CHECK_THAT(flat, Catch::Contains("no reading of this sensor says anything of the part"));
  CHECK_THAT(flat, !Catch::Contains("all it held from"));
  CHECK_THAT(flat, !Catch::Contains("missed never in a billion"));
  CHECK(Json::parse(report::sense_json(line, study::sense(line)))["threshold"].is_null());
}

TEST_CASE("sense's words are those of what gets through", "[report][sense][property]") {
  line::Line line = test::scenario("jewel-setter");
  line.sensor->amplifier.gain = 109.5;
  const study::Sense sense = study::sense(line);
  std::string flat = report::sense_text(line, sense, {});
  for (char& c : flat) c = c == '\n' ? ' ' : c;
  CHECK_THAT(flat, Catch::Contains("which come out as 1.80 V and 1.79 V. At best call it held from"));
  CHECK_THAT(flat,
             Catch::Contains("No reading tells \"half covered\", \"part\", \"part, leaking\" and \"blocked\" from "
                             "each other: all come out as 1.80 V, count 559."));
  CHECK_THAT(flat, Catch::Contains(", as held."));
  const Json json = Json::parse(report::sense_json(line, sense));
  CHECK(json["tells"] == false);
  CHECK(json["safe_after_s"].is_null());
  CHECK(json["states"][2]["alike"] == Json({"half covered", "part, leaking", "blocked"}));
  CHECK(json["states"][2]["read_pa"].get<double>() < json["states"][2]["vacuum_pa"].get<double>());
}

TEST_CASE("sense says that a part which closes nothing is never held", "[report][sense][property]") {
  line::Line line = test::scenario("jewel-setter");
  line.part->length = line.part->width = units::Quantity(0.5e-3);
  std::string flat = report::sense_text(line, study::sense(line), {});
  for (char& c : flat) c = c == '\n' ? ' ' : c;
  CHECK_THAT(flat,
             Catch::Contains("does not tell a held part from a missed one: none is held, since the part, 0.500 mm "
                             "at its longest, is no larger than the bore of 'nozzle', 1.00 mm: it is sucked in."));
}

TEST_CASE("a threshold that must be found on each build is called so where it is named", "[report][sense][property]") {
  line::Line line = test::scenario("jewel-setter");
  const auto said = [&] {
    const study::Sense sense = study::sense(line);
    return std::pair(sense, report::sense_verdict(line, sense, {}));
  };
  CHECK_THAT(said().second, Catch::Contains("a held one for missed never in a billion. Safe to decide"));
  line.sensor->zero = units::Quantity::normal(0.0, 30e-3);
  const auto [sense, verdict] = said();
  REQUIRE(sense.taught.false_below < line.sensor->allowed.value);
  REQUIRE(sense.computed.false_above > line.sensor->allowed.value);
  CHECK_THAT(verdict, Catch::Contains("a held one for missed never in a billion, if that threshold was found on this "
                                      "very build. Taken from this page for any build it is wrong " +
                                      report::odds(sense.computed.false_above) + " without a part and " +
                                      report::odds(sense.computed.false_below) + " with one: find it on each build"));
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

TEST_CASE("a share of builds is told as a bound where it is all but certain", "[report][sense][property]") {
  const line::Line line = test::scenario("jewel-setter");
  study::Sense sense = study::sense(line);
  const auto said = [&](double share) {
    sense.share_alive = share;
    std::string flat = report::sense_text(line, sense, {});
    for (char& c : flat) c = c == '\n' ? ' ' : c;
    const std::size_t at = flat.find("all states get through in ");
    return flat.substr(at, flat.find('.', flat.find("build", at)) - at);
  };
  CHECK(said(1.0) == "all states get through in all but at most 1 build in a billion");
  CHECK(said(0.9997) == "all states get through in more than 99.95 % of builds");
  CHECK(said(0.231) == "all states get through in 23.1 % of builds");
  CHECK(said(0.0) == "all states get through in less than 0.05 % of builds");
  sense.best_gain = 1594.0;
  std::string flat = report::sense_text(line, sense, {});
  for (char& c : flat) c = c == '\n' ? ' ' : c;
  CHECK_THAT(flat, Catch::Contains("; 1590 would use the ADC best."));
}
