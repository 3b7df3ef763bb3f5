#include "report/json.hpp"
#include "report/json_private.hpp"
#include "report/rank_words.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

Json element(const line::Line& line, const study::ElementCost& cost) {
  const line::Element& e = line.elements.at(cost.element);
  Json json{{"name", e.name}, {"kind", line::word(e.kind)}};
  put(json, "leak_kg_s", cost.leak);
  put(json, "leak_share", cost.leak_share);
  put(json, "leak_gain_pa", cost.leak_gain);
  put(json, "restriction_gain_pa", cost.restriction_gain);
  put(json, "fair_share_pa", cost.fair_share);
  put(json, "fair_share_error_pa", cost.fair_share_error);
  put(json, "settle_gain_s", cost.settle_gain);
  put(json, "reach_gain_s", cost.reach_gain);
  return json;
}

}  // namespace

std::string rank_json(const line::Line& line, const study::Ranking& ranking) {
  Json json = json_head(line, "rank");
  json["objective"] = word(ranking.objective);
  json["nozzle"] = line.elements.at(ranking.tip_element).name;
  json["tip"] = word(ranking.tip);
  json["elements"] = Json::array();
  for (const auto& cost : ranking.elements) json["elements"].push_back(element(line, cost));
  put(json, "total_loss_pa", ranking.total_loss);
  put(json, "tip_vacuum_pa", ranking.tip_vacuum);
  put(json, "ideal_vacuum_pa", ranking.ideal_vacuum);
  if (!ranking.why_not_closed.empty()) json["why_not_closed"] = ranking.why_not_closed;
  if (ranking.needed_vacuum) put(json, "needed_vacuum_pa", *ranking.needed_vacuum);
  json["shut"] = ranking.shut ? Json(line.elements.at(*ranking.shut).name) : Json(nullptr);
  put(json, "source_vacuum_pa", ranking.source_vacuum);
  put(json, "settle_s", ranking.settle);
  json["players"] = ranking.players;
  json["exact"] = ranking.exact;
  json["solves"] = ranking.solves;
  put_or_null(json, "least_vacuum_pa", ranking.least_vacuum);
  put_or_null(json, "sealed_vacuum_pa",
              ranking.at_parts ? std::optional(ranking.at_parts->sealed_vacuum) : std::nullopt);
  put(json, "under_parts_kg_s", ranking.under_parts);
  put(json, "through_parts_kg_s", ranking.through_parts);
  json["notes"] = Json::array();
  if (ranking.at_parts) json["notes"].push_back(parts_sentence(line, ranking, {}));
  for (const std::string& note : ranking.notes) json["notes"].push_back(note);
  return dumped(json);
}

}  // namespace airtally::report
