#include "report/json_private.hpp"
#include "report/pump_fit_text.hpp"

namespace airtally::report {

std::string pump_fit_json(const line::PumpReadings& readings, const study::PumpFit& fit) {
  Json json{{"format", 1}, {"command", "pumps"}, {"readings", readings.file}, {"name", readings.name}};
  put(json, "deepest_pa", fit.deepest.median);
  put(json, "deepest_low_pa", fit.deepest.low);
  put(json, "deepest_high_pa", fit.deepest.high);
  json["curve"] = Json::array();
  for (const study::FittedPoint& point : fit.curve) {
    Json one;
    put(one, "vacuum_pa", point.vacuum);
    put(one, "flow_kg_s", point.flow.median);
    put(one, "flow_low_kg_s", point.flow.low);
    put(one, "flow_high_kg_s", point.flow.high);
    json["curve"].push_back(one);
  }
  json["points"] = Json::array();
  for (const study::FittedReading& reading : fit.readings) {
    Json one;
    put(one, "vacuum_pa", reading.vacuum);
    put(one, "flow_kg_s", reading.flow);
    put(one, "off_kg_s", reading.off);
    json["points"].push_back(one);
  }
  json["current"] = Json::array();
  for (const auto& [vacuum, amperes] : fit.current) {
    Json one;
    put(one, "vacuum_pa", vacuum);
    put(one, "current_a", amperes);
    json["current"].push_back(one);
  }
  json["samples"] = fit.samples;
  json["failed"] = fit.failed;
  json["notes"] = fit.notes;
  return dumped(json);
}

}  // namespace airtally::report
