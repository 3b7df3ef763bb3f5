#include "line/topology.hpp"
#include "report/json.hpp"
#include "report/json_private.hpp"

namespace airtally::report {

std::string check_json(const line::Line& line, const std::vector<study::Warning>& warnings) {
  const line::Topology topology = line::topology(line);
  Json json = json_head(line, "check");
  put(json, "ambient_pa", line.site.pressure);
  put(json, "temperature_k", line.site.temperature);
  json["elements"] = Json::array();
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    const line::Element& e = line.elements[i];
    Json one{{"name", e.name}, {"kind", line::word(e.kind)}};
    one["after"] = nullptr;
    if (topology.before[i] != line::none) one["after"] = line.elements[topology.before[i]].name;
    one["joins"] = nullptr;
    if (!e.joins.empty()) one["joins"] = e.joins;
    one["leaks"] = e.leaks.size();
    one["gauge"] = e.gauge.has_value();
    one["assumed"] = e.assumed;
    json["elements"].push_back(one);
  }
  json["assumed"] = line.assumed;
  json["warnings"] = Json::array();
  for (const study::Warning& w : warnings)
    json["warnings"].push_back({{"element", line.elements.at(w.element).name}, {"sentence", w.sentence}});
  return dumped(json);
}

}  // namespace airtally::report
