#include "line/curves.hpp"
#include "report/json.hpp"
#include "report/json_private.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

Json element(const line::Line& line, const solve::ElementState& state) {
  const line::Element& e = line.elements.at(state.element);
  Json json{{"name", e.name}, {"kind", line::word(e.kind)}};
  put(json, "vacuum_pa", state.vacuum);
  put(json, "pressure_pa", state.pressure);
  put(json, "flow_kg_s", state.flow);
  if (!line::is_source(e.kind)) put(json, "drop_pa", state.drop);
  put(json, "leak_kg_s", state.leak);
  return json;
}

Json tip(const line::Line& line, const solve::Tip& state) {
  Json json{{"name", line.elements.at(state.element).name}, {"tip", word(state.state)}};
  put(json, "vacuum_pa", state.vacuum);
  put(json, "mouth_vacuum_pa", state.mouth_vacuum);
  put(json, "flow_kg_s", state.flow);
  return json;
}

}  // namespace

std::string steady_json(const line::Line& line, const solve::SteadyAnswer& answer,
                        const std::vector<study::Warning>& limits) {
  Json json = json_head(line, "steady");
  std::vector<solve::TipState> states;
  states.reserve(answer.tips.size());
  for (const solve::Tip& t : answer.tips) states.push_back(t.state);
  json["tip"] = word(states);
  put(json, "ambient_pa", answer.ambient);
  json["elements"] = Json::array();
  for (const auto& state : answer.elements) json["elements"].push_back(element(line, state));
  json["tips"] = Json::array();
  for (const auto& state : answer.tips) json["tips"].push_back(tip(line, state));
  json["sources"] = Json::array();
  for (const auto& state : answer.sources) {
    Json source{{"name", line.elements.at(state.element).name}};
    put(source, "vacuum_pa", state.vacuum);
    put(source, "flow_kg_s", state.flow);
    const auto current = line::current_at(line.elements[state.element], line.site, line.site.pressure - state.vacuum);
    source["current_a"] = current ? number_or_null(*current) : Json(nullptr);
    json["sources"].push_back(source);
  }
  put(json, "worst_balance", answer.report.worst_balance);
  json["iterations"] = answer.report.iterations;
  for (const study::Warning& limit : limits)
    json["warnings"].push_back({{"element", line.elements.at(limit.element).name}, {"sentence", limit.sentence}});
  return dumped(json);
}

}  // namespace airtally::report
