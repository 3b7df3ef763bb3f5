#include <algorithm>

#include "report/json_private.hpp"
#include "report/pumps_text.hpp"

namespace airtally::report {
namespace {

Json try_json(const study::PumpTry& pump) {
  Json json{{"name", pump.name}, {"own", pump.own}, {"ejector", pump.ejector}, {"does", pump.does()}};
  json["troubles"] = pump.troubles;
  put(json, "free_flow_kg_s", pump.free_flow);
  put(json, "deepest_pa", pump.deepest);
  put(json, "vacuum_open_pa", pump.vacuum_open);
  put(json, "vacuum_part_pa", pump.vacuum_part);
  put(json, "vacuum_blocked_pa", pump.vacuum_blocked);
  put(json, "margin_pa", pump.margin);
  put(json, "settle_s", pump.settle);
  put_or_null(json, "reach_s", pump.reach);
  put_or_null(json, "duty", pump.duty);
  put(json, "flow_kg_s", pump.flow);
  put_or_null(json, "current_open_a", pump.current_open);
  put_or_null(json, "current_part_a", pump.current_part);
  put_or_null(json, "margin_at_supply_pa", pump.margin_sagging);
  put(json, "margin_at_altitude_pa", pump.margin_high);
  json["matrix"] = Json::array();
  for (const auto& row : pump.grasps) {
    Json words = Json::array();
    for (const study::Grasp grasp : row) words.push_back(word(grasp));
    json["matrix"].push_back(words);
  }
  return json;
}

}  // namespace

std::string pumps_json(const line::Line& line, const study::Pumps& pumps) {
  Json json = json_head(line, "pumps");
  json["element"] = line.elements.at(pumps.element).name;
  json["smallest"] = pumps.smallest ? Json(pumps.tries[*pumps.smallest].name) : Json(nullptr);
  put(json, "needed_pa", *std::max_element(pumps.needs.begin(), pumps.needs.end()));
  json["parts"] = pumps.parts;
  json["nozzles"] = pumps.nozzles;
  json["pumps"] = Json::array();
  for (const study::PumpTry& pump : pumps.tries) json["pumps"].push_back(try_json(pump));
  json["to_hold"] = nullptr;
  if (pumps.hold_possible) {
    Json hold;
    put(hold, "vacuum_pa", pumps.hold.vacuum);
    put(hold, "flow_kg_s", pumps.hold.flow);
    put(hold, "vacuum_here_pa", pumps.hold_here.vacuum);
    put(hold, "flow_here_kg_s", pumps.hold_here.flow);
    json["to_hold"] = hold;
  }
  if (!pumps.why_not_closed.empty()) json["why_not_closed"] = pumps.why_not_closed;
  put_or_null(json, "time_allowed_s", pumps.time);
  put_or_null(json, "free_flow_in_time_kg_s", pumps.speed_for_time);
  json["required"] = Json::array();
  for (const study::RequiredPoint& point : pumps.required) {
    Json one;
    put(one, "vacuum_pa", point.vacuum);
    put(one, "flow_kg_s", point.flow);
    json["required"].push_back(one);
  }
  put(json, "supply", pumps.supply);
  put(json, "altitude_ambient_pa", pumps.high_pressure);
  json["notes"] = pumps.notes;
  return dumped(json);
}

}  // namespace airtally::report
