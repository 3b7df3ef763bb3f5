// The words, the JSON and the picture of a sensor that is a ready-made switch.
#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "lines/lines.hpp"
#include "read/line_file.hpp"
#include "report/page/pictures.hpp"
#include "report/page/units.hpp"
#include "report/sense_text.hpp"
#include "report/text.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"

using namespace airtally;
using Json = nlohmann::ordered_json;

namespace {

line::Line with_ready_made(double on, double hysteresis, double response = 0.0) {
  line::Line line = test::scenario("jewel-setter");
  line::Sensor sensor;
  sensor.at = "gauge tee";
  sensor.accuracy = 1e3;
  sensor.noise = 100.0;
  sensor.ready_made = line::VacuumSwitch{on, hysteresis, response};
  line.sensor = sensor;
  return line;
}

/// The text in one row, words apart by single spaces.
std::string flat_text(const line::Line& line, const report::Look& look = {}) {
  std::string flat = report::sense_text(line, study::sense(line), look);
  for (char& c : flat) c = c == '\n' ? ' ' : c;
  return flat;
}

}  // namespace

TEST_CASE("sense says when a switch goes on and off, and where to set it", "[report][sense][property]") {
  const line::Line line = with_ready_made(40e3, 2e3, 5e-3);
  const study::Sense sense = study::sense(line);
  const std::string flat = flat_text(line);
  CHECK_THAT(flat, Catch::Contains("The switch at the gauge tee tells a held part from a missed one: it feels 49.9 kPa "
                                   "with the part on and 20.4 kPa without, and switches on at 40.0 kPa and off at 38.0 "
                                   "kPa: a missed part then passes for held never in a billion, a held one for missed "
                                   "never in a billion. Safe to decide from "));
  CHECK_THAT(flat, Catch::Contains(", of which 5.00 ms are the switch's response"));
  CHECK_THAT(flat, Catch::Contains("Set it on at 36.") && Catch::Contains(" with a hysteresis of at most "));
  CHECK_THAT(flat, Catch::Contains(" of its flow reads as held once the switch is on: pressure alone"));
  for (const char* gone : {" V", "mV", "count", "gain", "front end", "nan", "readings themselves"})
    CHECK_THAT(flat, !Catch::Contains(gone));
  CHECK(report::sense_advice(test::scenario("jewel-setter"), study::sense(test::scenario("jewel-setter")), {}).empty());
  CHECK_THAT(flat_text(with_ready_made(40e3, 2e3)), !Catch::Contains("of which"));
}

TEST_CASE("sense says what is wrong with a switch's set point", "[report][sense][property]") {
  const std::string high = flat_text(with_ready_made(60e3, 2e3));
  CHECK_THAT(high, Catch::Contains("does not tell a held part from a missed one: "));
  CHECK_THAT(high,
             Catch::Contains("a held one for missed more than 99 % of the time. Set so high, a held part does not "
                             "switch it on. There is no moment after touch"));
  CHECK_THAT(high, Catch::Contains("Set it on at ") && Catch::Contains(", and with the line at rest it tells."));
  CHECK_THAT(flat_text(with_ready_made(15e3, 2e3)), Catch::Contains("Set so low, it is on with nothing on the tip."));
  const std::string wide = flat_text(with_ready_made(45e3, 40e3));
  CHECK_THAT(wide, Catch::Contains("Once it is on, nothing on the tip does not switch it off again."));
  CHECK_THAT(wide, Catch::Contains("Its own of 40.0 kPa is too wide, wherever it is set."));
  line::Line blind = with_ready_made(40e3, 2e3);
  blind.sensor->noise = 20e3;
  CHECK_THAT(flat_text(blind), Catch::Contains("No set point of such a switch tells"));
  line::Line sucked_in = with_ready_made(40e3, 2e3);
  sucked_in.part->length = sucked_in.part->width = units::Quantity(0.5e-3);
  CHECK_THAT(flat_text(sucked_in), Catch::Contains("none is held, since the part") && !Catch::Contains("Set it on"));
}

TEST_CASE("of several nozzles sense says which is judged, and what it can't tell", "[report][sense][property]") {
  const auto with = [](const std::string& at) {
    std::string text = R"(format = 1
part = { mass = "6 mg", gap = "10 um" }
sensor = { at = ")" + at +
                       R"(", accuracy = "1 kPa", switch = { on = "40 kPa", hysteresis = "2 kPa" } }
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa","20 L/min"],["80 kPa","0 L/min"]]
[[element]]
name = "rail"
kind = "tee"
)";
    for (const char* k : {"1", "2"})
      text += std::string("[[element]]\nname = \"hose ") + k +
              "\"\nkind = \"tube\"\nbore = \"2 mm\"\nlength = \"0.3 m\"\nafter = \"rail\"\n[[element]]\nname = \"cup " +
              k + "\"\nkind = \"nozzle\"\nbore = \"1 mm\"\nlength = \"5 mm\"\nrim = \"2 mm\"\n";
    return read::read_line_text(text, "cups.toml");
  };
  const std::string common = flat_text(with("rail"));
  CHECK_THAT(common,
             Catch::Contains("Judged is cup ") &&
                 Catch::Contains(", the hardest to tell of 2 nozzles; the other nozzle holds its part meanwhile. "
                                 "The air of 2 nozzles passes by this switch: it can tell that a part is missing "
                                 "there, not which."));
  CHECK_THAT(flat_text(with("hose 2")), Catch::Contains("Judged is cup ") && !Catch::Contains("not which"));
  CHECK(study::sense(with("hose 2"), 1).felt == 1);
  CHECK_FALSE(study::sense(with("hose 2"), 1).hardest);
  CHECK_THAT(flat_text(with_ready_made(40e3, 2e3)), !Catch::Contains("Judged is"));
  // Nothing scatters there: no table of nothing.
  CHECK_THAT(common, !Catch::Contains("together") && !Catch::Contains(" rms "));
}

TEST_CASE("check shows the sensor as it was understood", "[report][sense][property]") {
  CHECK_THAT(
      report::check_text(with_ready_made(40e3, 2e3), {}, {}),
      Catch::Contains("behind gauge tee, a switch: on at 40 kPa, hysteresis 2 kPa,") && Catch::Contains("\nsensor "));
  CHECK_THAT(report::check_text(test::scenario("jewel-setter"), {}, {}),
             Catch::Contains("behind gauge tee, on a tube of ") && Catch::Contains("front end difference"));
}

TEST_CASE("a nozzle that is all but closed is not clogged by all of its flow", "[report][sense][property]") {
  study::Sense sense = study::sense(with_ready_made(40e3, 2e3));
  sense.clogged_looks_held = 0.9985;
  CHECK_THAT(report::sense_caution(sense, {}), Catch::Contains("clogged by more than 99 % of its flow"));
  sense.clogged_looks_held = 0.64;
  CHECK_THAT(report::sense_caution(sense, {}), Catch::Contains("clogged by 64 % of its flow"));
}

TEST_CASE("a half covered nozzle leaves a switch as it was between its set points", "[report][sense][property]") {
  // Half covered it feels 29.6 kPa.
  line::Line line = with_ready_made(34e3, 8e3);
  CHECK_THAT(report::sense_caution(study::sense(line), {}),
             Catch::Contains(", as held where the switch was on before, else as missed."));
  CHECK_THAT(flat_text(line), Catch::Contains("as before"));
  line.sensor->ready_made->on = 40e3;
  line.sensor->ready_made->hysteresis = 2e3;
  CHECK_THAT(report::sense_caution(study::sense(line), {}), Catch::Contains(", as missed."));
  line.sensor->ready_made->on = 27e3;
  CHECK_THAT(report::sense_caution(study::sense(line), {}), Catch::Contains(", as held."));
  line.sensor->ready_made->on = 30e3;
  CHECK_THAT(report::sense_caution(study::sense(line), {}), Catch::Contains("so near a set point that noise"));
}

TEST_CASE("a switch's text fits 80 columns", "[report][sense][property]") {
  for (const double on : {10e3, 40e3, 45e3, 70e3}) {
    report::Look look;
    look.vacuum = units::find_unit(on > 42e3 ? "inHg" : "mbar", units::Dimension::pressure);
    const line::Line line = with_ready_made(on, 2e3, 5e-3);
    std::stringstream text(report::sense_text(line, study::sense(line), look));
    for (std::string row; std::getline(text, row);) {
      CAPTURE(row);
      CHECK(report::width(row) <= 80);
    }
  }
}

TEST_CASE("a switch's JSON has its set points, and null for what it has not", "[report][sense][property]") {
  const study::Sense sense = study::sense(with_ready_made(40e3, 2e3, 5e-3));
  const Json json = Json::parse(report::sense_json(with_ready_made(40e3, 2e3, 5e-3), sense));
  CHECK(json["switch"]["on_pa"] == 40e3);
  CHECK(json["switch"]["off_pa"] == 38e3);
  CHECK(json["switch"]["best_on_pa"].get<double>() == sense.points->best_on.value());
  CHECK(json["switch"]["most_hysteresis_pa"].get<double>() == sense.points->most_hysteresis.value());
  CHECK(json["threshold"]["vacuum_pa"] == 40e3);
  CHECK(json["averaging_s"] == 5e-3);
  CHECK(json["states"][0]["says"] == "off");
  CHECK(json["states"][2]["says"] == "on");
  for (const char* key : {"fixed_error_v", "gain", "best_gain", "low_v", "high_v", "share_alive"}) {
    CAPTURE(key);
    CHECK(json.at(key).is_null());
  }
  for (const char* key : {"bridge_v", "wanted_v", "output_v", "counts"}) {
    CAPTURE(key);
    CHECK(json["states"][0].at(key).is_null());
    CHECK(json["threshold"].at(key).is_null());
  }
  CHECK(json["front_ends"].empty());
  // No key is lost or won against a bridge, which has no switch.
  const line::Line bridge = test::scenario("jewel-setter");
  const Json other = Json::parse(report::sense_json(bridge, study::sense(bridge)));
  CHECK(other["switch"].is_null());
  CHECK(other["states"][0]["says"].is_null());
  for (const auto& [key, value] : other.items()) CHECK(json.contains(key));
}

TEST_CASE("the page draws a switch's set points and no volts", "[report][sense][property]") {
  report::page::Findings found;
  found.line = with_ready_made(40e3, 2e3);
  found.sense = study::sense(found.line);
  const report::page::Picture picture = report::page::sensing(found, report::page::Units{report::Look{}});
  CHECK_THAT(picture.on_wide, Catch::Contains("on from here up") && Catch::Contains("off from here down"));
  CHECK_THAT(picture.on_wide, !Catch::Contains("nan") && !Catch::Contains("held from here on"));
  for (const auto& column : picture.table.columns) CHECK(column.unit != "V");
  const auto& cells = picture.table.rows.front().cells;
  CHECK(cells.size() + 1 == picture.table.columns.size());
  CHECK(cells.back().text == "off");
}
