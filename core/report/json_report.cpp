#include "report/bands_text.hpp"
#include "report/cycle_text.hpp"
#include "report/hold_text.hpp"
#include "report/hunt_text.hpp"
#include "report/joint_text.hpp"
#include "report/json.hpp"
#include "report/json_private.hpp"
#include "report/page/page.hpp"
#include "report/pumps_text.hpp"
#include "report/sense_text.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

std::string banded(const std::string& json, const std::optional<page::Banded>& with, const line::Line& line) {
  if (!with) return json;
  return with_bands(json, with->question, with->bands, study::nominal(with->question, line));
}

Json points(const std::vector<study::DemandPoint>& curve) {
  Json all = Json::array();
  for (const study::DemandPoint& point : curve) {
    Json one;
    put(one, "vacuum_pa", point.vacuum);
    put(one, "flow_kg_s", point.flow);
    all.push_back(one);
  }
  return all;
}

Json pump_json(const line::Line& line, const study::PumpAgainstLine& against) {
  Json json{{"name", line.elements.at(against.element).name}, {"curve", points(against.pump.curve)}};
  json["demands"] = Json::array();
  for (const study::Demand& demand : against.demands) {
    Json one{{"tip", word(demand.tips)}};
    put(one, "vacuum_pa", demand.meets.vacuum);
    put(one, "flow_kg_s", demand.meets.flow);
    one["curve"] = points(demand.curve);
    json["demands"].push_back(one);
  }
  json["spares"] = Json::array();
  for (const study::SourceCurve& spare : against.spares)
    json["spares"].push_back({{"name", spare.name}, {"curve", points(spare.curve)}});
  return json;
}

}  // namespace

std::string report_json(const page::Findings& found, const std::vector<std::string>& changes) {
  Json json = json_head(found.line, "report");
  if (!changes.empty()) json["set"] = changes;
  const auto add = [&](const char* key, const std::string& text) { json[key] = Json::parse(text); };
  add("check", check_json(found.line, found.warnings));
  json["steady"] = Json::array();
  for (const solve::SteadyAnswer& answer : found.steady)
    json["steady"].push_back(Json::parse(steady_json(found.line, answer)));
  add("rank", banded(rank_json(found.line, found.ranking), found.ranking_bands, found.line));
  add("strip", strip_json(found.line, found.strip));
  if (found.pump) json["pump"] = pump_json(found.line, *found.pump);
  const hunt::RiseFit* log = found.log ? &*found.log : nullptr;
  add("rise", banded(rise_json(found.line, found.tips, found.rise, log), found.rise_bands, found.line));
  if (found.cycle) add("cycle", banded(cycle_json(found.line, *found.cycle), found.cycle_bands, found.line));
  if (found.hold) add("hold", hold_json(found.line, *found.hold, found.outages));
  if (found.sense) add("sense", sense_json(found.line, *found.sense));
  if (found.joint) add("joint", joint_json(found.line, *found.joint));
  if (found.choice) add("pumps", pumps_json(found.line, *found.choice));
  if (found.hunt) add("hunt", hunt_json(found.line, *found.hunt));
  return dumped(json);
}

}  // namespace airtally::report
