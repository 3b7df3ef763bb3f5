#include <cmath>

#include "report/json.hpp"
#include "report/json_private.hpp"
#include "report/words.hpp"

namespace airtally::report {

std::string rise_json(const line::Line& line, std::span<const solve::TipState> tips, const study::Rise& rise) {
  Json json = json_head(line, "rise");
  json["tip"] = word(tips);
  put(json, "settle_s", rise.settle);
  put(json, "final_vacuum_pa", rise.final_vacuum);
  json["tips"] = Json::array();
  for (std::size_t k = 0; k < rise.tips.size(); ++k) {
    Json tip{{"name", line.elements.at(rise.tips[k].element).name}};
    if (k < tips.size()) tip["tip"] = word(tips[k]);
    put(tip, "settle_s", rise.tips[k].settle);
    put(tip, "final_vacuum_pa", rise.tips[k].final_vacuum);
    json["tips"].push_back(tip);
  }
  json["samples"] = Json::array();
  for (const study::RiseSample& sample : rise.samples) {
    Json vacuum = Json::object();
    for (std::size_t k = 0; k < rise.places.size(); ++k)
      put(vacuum, line.elements.at(rise.places[k]).name, sample.vacuum.at(k));
    Json one;
    put(one, "time_s", sample.time);
    one["vacuum_pa"] = vacuum;
    json["samples"].push_back(one);
  }
  json["segments"] = rise.segments;
  put(json, "travel_time_s", rise.inertia.travel);
  json["damping_ratio"] = std::isfinite(rise.inertia.damping) ? Json(rise.inertia.damping) : Json(nullptr);
  put(json, "settle_change_by_inertia", rise.inertia.settle_change);
  json["warnings"] = rise.warnings;
  put(json, "worst_balance", rise.worst_balance);
  json["steps"] = rise.steps;
  json["evaluations"] = rise.evaluations;
  return dumped(json);
}

}  // namespace airtally::report
