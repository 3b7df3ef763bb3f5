// docs/json.md names every key of every answer.
#include "report/json.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "lines/lines.hpp"
#include "read/pump_readings_file.hpp"
#include "read/twist_file.hpp"
#include "report/compare_text.hpp"
#include "report/cycle_text.hpp"
#include "report/decay_text.hpp"
#include "report/hold_text.hpp"
#include "report/hunt_text.hpp"
#include "report/joint_text.hpp"
#include "report/pump_fit_text.hpp"
#include "report/pumps_text.hpp"
#include "report/sense_text.hpp"
#include "report/stats.hpp"

using namespace airtally;
using Json = nlohmann::ordered_json;

namespace {

/// Every key below `json`, but for objects whose keys are the names of elements.
void collect(const Json& json, const line::Line& line, std::set<std::string>& keys) {
  if (json.is_array())
    for (const Json& item : json) collect(item, line, keys);
  if (!json.is_object()) return;
  for (const auto& [key, value] : json.items()) {
    if (line::find(line, key)) continue;
    keys.insert(key);
    collect(value, line, keys);
  }
}

/// A reading that can be and one that can't, so that every list has something in it.
hunt::Readings one_reading(const line::Line& line) {
  hunt::Readings readings;
  hunt::Reading reading;
  reading.setting = {*line::find(line, "rotary joint"), 0.8e-3, solve::usual_tips(line)};
  reading.at = *line::find(line, "gauge tee");
  reading.value = 40e3;
  readings.list = {reading, reading};
  readings.list[1].value = 97e3;
  return readings;
}

/// The same line with a switch for a sensor.
line::Line with_switch(line::Line line) {
  line.sensor->ready_made = line::VacuumSwitch{45e3, 2e3, 5e-3};
  return line;
}

report::DecayQuestion decayed() {
  line::Log log;
  for (int k = 0; k < 20; ++k) {
    log.time.push_back(k);
    log.vacuum.push_back(60e3 - 100.0 * k);
  }
  const gas::Site site;
  return {hunt::fit_decay(log, site, 0.5), site, units::Quantity(50e-6), {}, ""};
}

}  // namespace

TEST_CASE("the page of the JSON answers names every key", "[docs][property]") {
  std::ifstream in(AIRTALLY_SOURCE_DIR "/docs/json.md");
  std::stringstream text;
  text << in.rdbuf();
  const std::string page = text.str();
  const line::Line line = test::scenario("jewel-setter");
  const line::Line ready = with_switch(line);
  const auto tips = solve::usual_tips(line);
  const std::vector<study::Variant> variants{{"one", line}, {"other", test::scenario("jewel-setter-twist")}};
  const study::Comparison comparison = study::compare(variants);
  study::SampleOptions few;
  few.samples = 16;
  const study::CompareBands bands = study::compare_bands(variants, comparison, true, few);
  const line::PumpReadings bench = read::read_pump_readings(AIRTALLY_LINES "/readings/bench-pump.toml");
  const std::vector<std::pair<std::string, std::string>> answers{
      {"compare", report::compare_json(variants, comparison, bands)},
      {"stats", report::with_stats("{\"format\": 1, \"command\": \"x\"}", {}).value()},
      {"check", report::check_json(line, {{0, "a warning"}})},
      {"steady", report::steady_json(line, solve::steady(line, tips))},
      {"rise", report::rise_json(line, tips, study::rise(line, tips))},
      {"rank", report::rank_json(line, study::rank(line, tips))},
      {"strip", report::strip_json(line, study::strip(line, tips))},
      {"hold", report::hold_json(line, study::hold(line), study::outages(line, study::hold(line)))},
      {"cycle", report::cycle_json(line, study::cycle(line))},
      {"hunt", report::hunt_json(line, hunt::hunt(line, one_reading(line)))},
      {"decay", report::decay_json(decayed())},
      {"sense", report::sense_json(line, study::sense(line))},
      {"sense", report::sense_json(ready, study::sense(ready))},
      {"joint", report::joint_json(line, study::joint(line, read::read_twist(line.file).value()))},
      {"pumps", report::pumps_json(line, study::pumps(line, {}))},
      {"pumps", report::pump_fit_json(bench, study::pump_fit(bench, 16))}};
  for (const auto& [command, answer] : answers) {
    CAPTURE(command);
    const std::size_t begin = page.find("\n## " + command + "\n");
    REQUIRE(begin != std::string::npos);
    const std::string section =
        page.substr(0, page.find("\n## ")) + page.substr(begin, page.find("\n## ", begin + 1) - begin);
    std::set<std::string> keys;
    collect(Json::parse(answer), line, keys);
    CHECK(keys.size() > 5);
    for (const std::string& key : keys) {
      CAPTURE(key);
      const bool named = section.find("`" + key + "`") != std::string::npos ||
                         section.find("." + key + "`") != std::string::npos ||
                         section.find("`" + key + "[]") != std::string::npos;
      CHECK(named);
    }
  }
}
