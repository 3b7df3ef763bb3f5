#include "report/json.hpp"
#include "report/json_private.hpp"
#include "report/strip_readings.hpp"

namespace airtally::report {

std::string strip_readings_json(const line::Line& line, const study::Strip& strip, const hunt::BesideAll& all) {
  Json json = Json::parse(strip_json(line, strip));
  json["measured"] = Json::array();
  for (const hunt::Beside& b : all.list) {
    const bool vacuum = is_gauge(b.instrument);
    const std::string unit = vacuum ? "_pa" : "_a";
    Json one{{"cap", line.elements.at(strip.steps[b.step].cap).name}, {"at", line.elements.at(b.at).name}};
    one["in_plug"] = b.instrument == hunt::Instrument::plugged;
    put(one, "read" + unit, b.read);
    put(one, "predicted" + unit, b.predicted);
    put_or_null(one, "surprise" + unit, b.compared ? std::optional(b.surprise) : std::nullopt);
    json["measured"].push_back(one);
  }
  json["surprise"] =
      all.worst ? Json(line.elements.at(strip.steps[all.list[*all.worst].step].cap).name) : Json(nullptr);
  json["left_out"] = all.others;
  return dumped(json);
}

}  // namespace airtally::report
