#include "report/json.hpp"
#include "report/json_private.hpp"

namespace airtally::report {
namespace {

Json reading(const line::Line& line, const study::StripReading& r) {
  Json json{{"at", line.elements.at(r.at).name}};
  put(json, "vacuum_pa", r.vacuum);
  json["current_a"] = nullptr;
  if (r.current) put(json, "current_a", *r.current);
  return json;
}

}  // namespace

std::string strip_json(const line::Line& line, const study::Strip& strip) {
  Json json = json_head(line, "strip");
  json["steps"] = Json::array();
  for (const study::StripStep& step : strip.steps) {
    Json one{{"cap", line.elements.at(step.cap).name}};
    one["before"] = line.elements.at(strip.steps.at(step.before).cap).name;
    one["readings"] = Json::array();
    for (const auto& r : step.readings) one["readings"].push_back(reading(line, r));
    put(one, "end_vacuum_pa", step.end);
    put(one, "change_pa", step.change);
    json["steps"].push_back(one);
  }
  json["branches"] = Json::array();
  for (const study::StripBranch& branch : strip.branches) {
    Json one{{"off", line.elements.at(branch.off).name}};
    one["readings"] = Json::array();
    for (const auto& r : branch.readings) one["readings"].push_back(reading(line, r));
    put(one, "change_pa", branch.change);
    json["branches"].push_back(one);
  }
  json["whole"] = Json::array();
  for (const auto& r : strip.whole) json["whole"].push_back(reading(line, r));
  json["culprit"] = nullptr;
  if (strip.culprit) json["culprit"] = line.elements.at(*strip.culprit).name;
  json["judge"] = line.elements.at(strip.judge).name;
  json["by_current"] = strip.by_current;
  json["assumed_gauge"] = strip.assumed_gauge;
  return dumped(json);
}

}  // namespace airtally::report
