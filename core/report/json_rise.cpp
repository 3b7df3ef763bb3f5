#include <cmath>

#include "report/json.hpp"
#include "report/json_private.hpp"
#include "report/words.hpp"

namespace airtally::report {

namespace {

Json misfit(const hunt::Misfit& m) {
  Json json;
  put(json, "rms_pa", m.rms);
  put(json, "worst_pa", m.worst);
  put(json, "worst_at_s", m.worst_at);
  return json;
}

Json factor(const std::optional<hunt::FittedFactor>& f) {
  if (!f) return nullptr;
  Json json;
  put(json, "value", f->value);
  put(json, "standard_error", f->error);
  return json;
}

Json log_json(const line::Line& line, const hunt::RiseFit& fit) {
  Json json{{"file", fit.log.file},
            {"place", line.elements.at(fit.element).name},
            {"rows", fit.log.time.size()},
            {"gaps", fit.log.gaps},
            {"notes", fit.log.notes},
            {"as_written", misfit(fit.before)},
            {"fitted", fit.volume ? misfit(fit.after) : Json(nullptr)},
            {"volume_factor", factor(fit.volume)},
            {"pump_flow_factor", factor(fit.pump_flow)}};
  json["correlation"] = fit.volume ? Json(fit.correlation) : Json(nullptr);
  return json;
}

}  // namespace

std::string rise_json(const line::Line& line, std::span<const solve::TipState> tips, const study::Rise& rise,
                      const hunt::RiseFit* log) {
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
  if (log) json["log"] = log_json(line, *log);
  return dumped(json);
}

}  // namespace airtally::report
