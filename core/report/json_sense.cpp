#include "report/json_private.hpp"
#include "report/sense_text.hpp"

namespace airtally::report {
namespace {

/// What a switch has not is null.
void put_of_chain(Json& json, const study::Sense& sense, const std::string& key, double value) {
  put_or_null(json, key, sense.points ? std::nullopt : std::optional(value));
}

Json reading_json(const study::Sense& sense, const study::ChainReading& reading) {
  Json json;
  put(json, "vacuum_pa", reading.vacuum);
  put(json, "read_pa", reading.read);
  put_of_chain(json, sense, "bridge_v", reading.bridge);
  put_of_chain(json, sense, "wanted_v", reading.wanted);
  put_of_chain(json, sense, "output_v", reading.output);
  put_of_chain(json, sense, "counts", reading.counts);
  json["clipped"] = reading.clipped;
  return json;
}

Json pick_json(const study::SensedPick& picked) {
  Json pick;
  put_or_null(pick, "safe_after_s", picked.told());
  put_or_null(pick, "held_after_s", picked.held);
  put_or_null(pick, "missed_after_s", picked.missed);
  put(pick, "most_pa", picked.most);
  put_or_null(pick, "lift_after_s", picked.lift);
  put(pick, "place_after_s", picked.place);
  put(pick, "held_last_pa", picked.held_last);
  put(pick, "missed_last_pa", picked.missed_last);
  put_or_null(pick, "other_threshold_pa", picked.other_threshold);
  return pick;
}

Json switch_json(const study::SwitchPoints& points) {
  Json json;
  put(json, "on_pa", points.on);
  put(json, "off_pa", points.off);
  put(json, "on_highest_pa", points.on_highest);
  put(json, "off_lowest_pa", points.off_lowest);
  put_or_null(json, "best_on_pa", points.best_on);
  put_or_null(json, "most_hysteresis_pa", points.most_hysteresis);
  put(json, "best_separation", points.best_separation);
  json["best_in_cycle"] = points.best_pick ? pick_json(*points.best_pick) : Json(nullptr);
  return json;
}

Json rates_json(const laws::ErrorRates& rates) {
  Json json;
  put(json, "false_hold", rates.false_above);
  put(json, "missed_hold", rates.false_below);
  return json;
}

void put_states(Json& json, const study::Sense& sense) {
  json["states"] = Json::array();
  for (const study::SensedState& state : sense.states) {
    Json one{{"name", state.name}};
    one.update(reading_json(sense, state.reading));
    put(one, "deviation_pa", state.deviation);
    one["alike"] = state.alike;
    one["says"] = state.says ? Json(study::word(*state.says)) : Json(nullptr);
    json["states"].push_back(one);
  }
}

void put_noises(Json& json, const study::Sense& sense) {
  json["noises"] = Json::array();
  for (const study::Noise& noise : sense.noises) {
    Json one{{"name", noise.what}};
    put(one, "one_reading_pa", noise.one);
    put(one, "decision_pa", noise.decided);
    json["noises"].push_back(one);
  }
  put(json, "noise_pa", sense.noise);
  put(json, "gap_spread_pa", sense.gap_spread);
  put(json, "neighbours_spread_pa", sense.neighbours.spread);
  put(json, "neighbours_spread_open_pa", sense.neighbours.spread_open);
  put(json, "neighbours_shift_pa", sense.neighbours.shift);
  put(json, "neighbours_alike_pa", sense.neighbours.alike);
}

void put_chain(Json& json, const study::Sense& sense) {
  put_of_chain(json, sense, "fixed_error_v", sense.chain.fixed_error);
  put_of_chain(json, sense, "gain", sense.chain.gain);
  put_of_chain(json, sense, "best_gain", sense.best_gain);
  put_of_chain(json, sense, "low_v", sense.chain.low);
  put_of_chain(json, sense, "high_v", sense.chain.high);
  put_of_chain(json, sense, "share_alive", sense.share_alive);
  put_or_null(json, "share_told", sense.share_told);
}

void put_front_ends(Json& json, const study::Sense& sense) {
  json["front_ends"] = Json::array();
  for (const study::FrontEndOutcome& o : sense.front_ends) {
    Json one{{"kind", line::word(o.kind)}, {"own", o.own}};
    put(one, "gain", o.gain);
    one["works"] = o.works;
    put(one, "counts", o.counts);
    put(one, "noise_pa", o.noise);
    put(one, "error_rate", o.error_rate);
    put(one, "share_alive", o.share_alive);
    json["front_ends"].push_back(one);
  }
}

void put_places(Json& json, const line::Line& line, const study::Sense& sense) {
  json["places"] = Json::array();
  for (const study::SensorPlace& place : sense.places) {
    Json one{{"name", line.elements.at(place.element).name}};
    put(one, "vacuum_pa", place.vacuum);
    put(one, "signal_pa", place.signal);
    put(one, "scatter_pa", place.noise);
    put(one, "separation", place.separation);
    json["places"].push_back(one);
  }
}

}  // namespace

std::string sense_json(const line::Line& line, const study::Sense& sense) {
  Json json = json_head(line, "sense");
  json["at"] = line.elements.at(sense.element).name;
  json["nozzle"] = line.elements.at(sense.nozzle).name;
  json["nozzles_felt"] = sense.felt;
  json["tells"] = sense.tells;
  json["works"] = sense.works();
  if (!sense.why_not_closed.empty()) json["why_not_closed"] = sense.why_not_closed;
  put_states(json, sense);
  json["threshold"] = sense.threshold > 0.0 ? reading_json(sense, sense.at_threshold) : Json(nullptr);
  json["switch"] = sense.points ? switch_json(*sense.points) : Json(nullptr);
  json["taught"] = rates_json(sense.taught);
  json["computed"] = rates_json(sense.computed);
  put(json, "separation", sense.separation);
  put_noises(json, sense);
  put_chain(json, sense);
  put_or_null(json, "clogged_looks_held", sense.clogged_looks_held);
  put_or_null(json, "safe_after_s", sense.safe_after);
  put(json, "averaging_s", sense.averaging_time);
  if (sense.pick) json["in_cycle"] = pick_json(*sense.pick);
  put_front_ends(json, sense);
  put_places(json, line, sense);
  json["notes"] = sense.notes;
  return dumped(json);
}

}  // namespace airtally::report
