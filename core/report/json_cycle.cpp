#include <algorithm>

#include "report/cycle_text.hpp"
#include "report/json_private.hpp"

namespace airtally::report {
namespace {

Json name_or_null(const line::Line& line, const std::optional<std::size_t>& element) {
  return element ? Json(line.elements.at(*element).name) : Json(nullptr);
}

Json head_json(const line::Line& line, const study::HeadCycle& head) {
  Json json{{"name", line.elements.at(head.nozzle).name}, {"valve", name_or_null(line, head.valve)}};
  json["works"] = head.works();
  json["seat"] = line::word(head.seat);
  if (!head.why_not_closed.empty()) json["why_not_closed"] = head.why_not_closed;
  put(json, "valve_on_s", head.valve_on);
  put(json, "touch_s", head.touch);
  put_or_null(json, "safe_lift_s", head.safe_lift);
  put_or_null(json, "safe_travel_s", head.safe_travel);
  if (head.held_from) {
    put(json, "held_from_s", *head.held_from);
    put(json, "lost_at_s", head.lost_at);
  }
  put(json, "lift_s", head.lift);
  put(json, "travel_s", head.travel);
  put(json, "place_s", head.place);
  put(json, "release_s", head.release);
  put_or_null(json, "let_go_s", head.let_go);
  put(json, "blow_pa", head.blow);
  put(json, "needed_to_lift_pa", head.needed_to_lift);
  put(json, "needed_to_travel_pa", head.needed_to_travel);
  put(json, "margin_at_lift_pa", head.margin_at_lift);
  put(json, "margin_in_travel_pa", head.margin_in_travel);
  put(json, "worst_moment_s", head.worst_moment);
  return json;
}

/// What of it hangs on the part's gap.
Json widest_json(const study::HeadCycle& head) {
  Json json{{"works", head.works()}};
  put_or_null(json, "safe_lift_s", head.safe_lift);
  put_or_null(json, "safe_travel_s", head.safe_travel);
  put(json, "margin_at_lift_pa", head.margin_at_lift);
  put(json, "margin_in_travel_pa", head.margin_in_travel);
  return json;
}

Json sample_json(const line::Line& line, const study::CycleAnswer& answer, const study::CycleSample& sample) {
  Json json, mouths = Json::object(), gauges = Json::object(), sources = Json::object();
  put(json, "time_s", sample.time);
  for (std::size_t k = 0; k < answer.places.size(); ++k) {
    const study::CyclePlace& place = answer.places[k];
    put(place.gauge    ? gauges
        : place.source ? sources
                       : mouths,
        line.elements.at(place.element).name, sample.vacuum.at(k));
  }
  json["mouth_vacuum_pa"] = mouths;
  json["gauge_vacuum_pa"] = gauges;
  json["source_vacuum_pa"] = sources;
  return json;
}

}  // namespace

std::string cycle_json(const line::Line& line, const study::CycleAnswer& answer) {
  Json json = json_head(line, "cycle");
  json["works"] = answer.works();
  if (!answer.widest.empty()) put(json, "widest_gap_m", answer.widest_gap);
  put(json, "end_s", answer.end);
  json["repeats"] = answer.repeats;
  put(json, "drift_pa", answer.drift);
  json["settled"] = answer.settled;
  json["carried_ahead"] = answer.carried;
  json["slowest"] = line.elements.at(answer.heads.at(answer.slowest).nozzle).name;
  json["heads"] = Json::array();
  for (std::size_t k = 0; k < answer.heads.size(); ++k) {
    json["heads"].push_back(head_json(line, answer.heads[k]));
    if (k < answer.widest.size()) json["heads"].back()["widest"] = widest_json(answer.widest[k]);
  }
  json["events"] = Json::array();
  for (const study::CycleEvent& event : answer.events) {
    Json one;
    put(one, "time_s", event.time);
    one["element"] = line.elements.at(event.element).name;
    one["what"] = event.what;
    json["events"].push_back(one);
  }
  json["limits"] = Json::array();
  for (const study::CycleGain& gain : answer.limits) {
    Json one{{"element", name_or_null(line, gain.element)}, {"what", gain.what}};
    put(one, "gain_s", gain.gain);
    json["limits"].push_back(one);
  }
  json["samples"] = Json::array();
  for (const study::CycleSample& sample : answer.samples) json["samples"].push_back(sample_json(line, answer, sample));
  json["notes"] = answer.notes;
  put(json, "worst_balance", answer.worst_balance);
  json["steps"] = answer.steps;
  json["pieces"] = answer.pieces;
  return dumped(json);
}

}  // namespace airtally::report
