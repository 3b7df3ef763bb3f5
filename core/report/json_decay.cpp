#include "gas/air.hpp"
#include "report/decay_text.hpp"
#include "report/json_private.hpp"

namespace airtally::report {
namespace {

constexpr double ml_min = gas::free_air_density * 1e-6 / 60.0;  // kg/s in one millilitre of free air a minute

/// A limit that the data do not give is null; so is the median of what has but a lower limit.
Json spread(const hunt::Spread90& s, double unit) {
  Json json;
  put_or_null(json, "median", s.median > 0.0 || s.high > 0.0 ? std::optional(s.median / unit) : std::nullopt);
  put_or_null(json, "low", s.low > 0.0 ? std::optional(s.low / unit) : std::nullopt);
  put_or_null(json, "high", s.high > 0.0 ? std::optional(s.high / unit) : std::nullopt);
  return json;
}

const char* inflow_word(hunt::Inflow inflow) { return inflow == hunt::Inflow::orifice ? "orifice" : "laminar"; }

Json all_courses(const hunt::Decay& decay) {
  Json list = Json::array();
  for (const hunt::DecayCourse& one : decay.courses) {
    Json json{{"inflow", inflow_word(one.inflow)}};
    put(json, "probability", one.probability);
    put(json, "rate_pa_s", one.rate);
    put(json, "deviation_pa_s", one.deviation);
    list.push_back(std::move(json));
  }
  return list;
}

}  // namespace

std::string decay_json(const DecayQuestion& q) {
  const hunt::Decay& decay = q.decay;
  Json json{{"format", 1}, {"command", "decay"}, {"log", decay.log.file}};
  json["rate_pa_s"] = spread(decay.rate, 1.0);
  json["leak_ml_min"] = q.volume && !q.leak ? spread(hunt::leak_of(decay, *q.volume, q.site), ml_min) : Json(nullptr);
  json["volume_m3"] = q.leak ? spread(hunt::volume_of(decay, *q.leak, q.site, q.leak_deviation), 1.0) : Json(nullptr);
  json["least_only"] = decay.least_only;
  json["follows"] = decay.follows;
  json["inflow"] = decay.least_only ? Json(nullptr) : Json(inflow_word(decay.inflow));
  json["inflow_told"] = hunt::tells_inflow(decay);
  json["courses"] = all_courses(decay);
  put(json, "start_s", decay.log.time[decay.first]);
  put(json, "start_pressure_pa", decay.start);
  put_or_null(json, "rms_pa", decay.least_only ? std::nullopt : std::optional(decay.rms));
  put(json, "two_point_rate_pa_s", decay.two_point_rate);
  put(json, "outgassing_share", decay.outgassing);
  json["leak_shown"] = decay.leak_shown;
  put(json, "drift_k", decay.drift);
  put(json, "drift_alone_k", decay.drift_alone);
  json["drift_shown"] = decay.drift_shown;
  return dumped(json);
}

}  // namespace airtally::report
