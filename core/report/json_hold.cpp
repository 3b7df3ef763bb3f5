#include "report/hold_text.hpp"
#include "report/json_private.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

Json of_three(const study::TipHold& tip, double study::VacuumHad::*what) {
  Json json;
  put(json, "nominal", tip.nominal.*what);
  put(json, "least", tip.least.*what);
  put(json, "most", tip.most.*what);
  return json;
}

Json tip_json(const line::Line& line, const study::TipHold& tip) {
  Json json{{"name", line.elements.at(tip.element).name}, {"tip", std::string(word(tip.state))}, {"holds", nullptr}};
  if (!tip.judged) return json;
  json["holds"] = tip.holds();
  json["seat"] = line::word(tip.seat);
  if (!tip.why_not_closed.empty()) json["why_not_closed"] = tip.why_not_closed;
  put(json, "area_m2", tip.area);
  Json needed;
  for (const study::Loss loss : study::all_losses)
    put(needed, std::string(study::word(loss)), tip.needed.at(static_cast<std::size_t>(loss)));
  json["needed_pa"] = needed;
  json["limit"] = study::word(tip.limit);
  put(json, "needed_vacuum_pa", tip.needed_vacuum);
  json["vacuum_pa"] = of_three(tip, &study::VacuumHad::vacuum);
  json["gap_m"] = of_three(tip, &study::VacuumHad::gap);
  put(json, "force_n", tip.force);
  put(json, "margin_pa", tip.margin);
  put(json, "heaviest_kg", tip.heaviest);
  put_or_null(json, "most_lift_m_s2", tip.most_lift);
  put_or_null(json, "most_travel_m_s2", tip.most_travel);
  return json;
}

Json outage_json(const line::Line& line, const study::Outage& outage) {
  Json json{{"unstated", outage.way == study::WayBack::shut ? "shut" : "open"}};
  json["tips"] = Json::array();
  for (const study::TipOutage& tip : outage.tips) {
    Json one{{"name", line.elements.at(tip.element).name}};
    put_or_null(one, "moves_s", tip.moves);
    put_or_null(one, "weight_s", tip.weight);
    json["tips"].push_back(one);
  }
  return json;
}

}  // namespace

std::string hold_json(const line::Line& line, const study::Hold& hold, std::span<const study::Outage> outages) {
  Json json = json_head(line, "hold");
  json["part"] = line.part ? line.part->name : "";
  put(json, "mass_kg", hold.mass);
  put(json, "ambient_pa", hold.ambient);
  json["holds"] = hold.holds();
  json["factors"] = Json::array();
  for (const study::Assumption& factor : hold.factors) {
    Json one{{"name", factor.what}};
    put(one, "value", factor.value);
    one["origin"] = factor.stated ? "line file" : "common practice";
    json["factors"].push_back(one);
  }
  json["tips"] = Json::array();
  for (const study::TipHold& tip : hold.tips) json["tips"].push_back(tip_json(line, tip));
  json["weakest"] = line.elements.at(hold.tips.at(hold.weakest).element).name;
  json["outages"] = Json::array();
  for (const study::Outage& outage : outages) json["outages"].push_back(outage_json(line, outage));
  json["notes"] = hold.notes;
  return dumped(json);
}

}  // namespace airtally::report
