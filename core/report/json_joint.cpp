#include <algorithm>

#include "report/joint_text.hpp"
#include "report/json_private.hpp"

namespace airtally::report {
namespace {

using study::BreakEven;

Json turns_json(const study::Turns& turns) {
  Json json{{"placements", turns.placements}, {"unreachable", turns.unreachable}, {"unwinds", turns.unwinds}};
  put(json, "carried_rad", turns.carried);
  put(json, "back_rad", turns.back);
  put(json, "carried_s", turns.carried_time);
  put(json, "back_s", turns.back_time);
  put(json, "late_carried_s", turns.late);
  put(json, "late_back_s", turns.late_back);
  put(json, "farthest_rad", turns.farthest);
  return json;
}

Json way_json(const study::JointWay& way) {
  Json json{{"name", way.name}, {"twists", way.twists}, {"own", way.own}, {"does", way.does()}};
  json["troubles"] = way.troubles;
  put(json, "vacuum_open_pa", way.vacuum_open);
  put(json, "vacuum_part_pa", way.vacuum_part);
  put(json, "leak_kg_s", way.leak);
  put(json, "margin_pa", way.margin);
  put(json, "settle_s", way.settle);
  put_or_null(json, "reach_s", way.reach);
  put_or_null(json, "pump_duty", way.duty);
  put_or_null(json, "friction_n_m", way.friction);
  put_or_null(json, "torque_n_m", way.torque);
  put_or_null(json, "torque_left_n_m", way.torque_left);
  json["turns"] = turns_json(way.turns);
  put_or_null(json, "late_s", way.late);
  put_or_null(json, "placement_s", way.placement);
  return json;
}

Json tube_json(const study::TwistedTube& tube) {
  Json json;
  put(json, "angle_rad", tube.angle);
  put(json, "torque_n_m", tube.torque);
  put(json, "strain", tube.strain);
  put(json, "allowed_strain", tube.allowed);
  put(json, "shortest_m", tube.shortest);
  put(json, "flattening_pa", tube.flattens);
  put_or_null(json, "tightest_bend_m", tube.tightest);
  return json;
}

std::string_view outcome_word(BreakEven::Outcome outcome) {
  switch (outcome) {
    case BreakEven::Outcome::found:
      return "found";
    case BreakEven::Outcome::tube_always:
      return "tube-always";
    case BreakEven::Outcome::joint_always:
      return "joint-always";
    case BreakEven::Outcome::none:
      return "none";
  }
  return "none";
}

Json even_json(const BreakEven& even) {
  const std::string key = even.clearance ? "clearance_m" : "leak_kg_s";
  Json json{{"outcome", outcome_word(even.outcome)}};
  json[key] = nullptr;
  if (even.outcome == BreakEven::Outcome::found) put(json, key, even.value);
  put(json, even.clearance ? "own_clearance_m" : "own_leak_kg_s", even.now);
  json["curve"] = Json::array();
  for (const study::JointPoint& point : even.curve) {
    Json one;
    put(one, key, point.value);
    put_or_null(one, "late_s", point.late);
    json["curve"].push_back(one);
  }
  return json;
}

}  // namespace

std::string joint_json(const line::Line& line, const study::Joint& joint) {
  Json json = json_head(line, "joint");
  json["tube_wins"] = joint.tube_wins();
  json["best"] = joint.best ? Json(joint.ways[*joint.best].name) : Json(nullptr);
  json["alike"] = Json::array();
  for (std::size_t k = 0; k < joint.ways.size(); ++k)
    if (joint.best && joint.ways[k].does() && joint.alike(k, *joint.best)) json["alike"].push_back(joint.ways[k].name);
  json["joint"] = joint.joint ? Json(joint.ways[*joint.joint].name) : Json(nullptr);
  json["ways"] = Json::array();
  for (const study::JointWay& way : joint.ways) json["ways"].push_back(way_json(way));
  json["tube"] = tube_json(joint.twisted);
  json["break_even"] = even_json(joint.even);
  put_or_null(json, "even_pace_hz", joint.even_pace);
  put(json, "carry_s", joint.carry);
  put(json, "back_s", joint.back);
  put(json, "other_s", joint.other);
  put(json, "wait_for_pa", *std::max_element(joint.needs.begin(), joint.needs.end()));
  json["angles"] = joint.angles;
  json["notes"] = joint.notes;
  return dumped(json);
}

}  // namespace airtally::report
