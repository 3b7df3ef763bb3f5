#include <cmath>

#include "report/bands_text.hpp"
#include "report/json_bands_private.hpp"

namespace airtally::report {
namespace {

Json output(const study::Question& question, const study::Bands& bands, double nominal, std::size_t m) {
  const study::Measure& measure = question.measures[m];
  Json json{{"key", measure.key}};
  json["name"] = measure.element.empty() ? Json(nullptr) : Json(measure.element);
  if (measure.time >= 0.0) json["time_s"] = measure.time;
  json["nominal"] = number_or_null(nominal);
  std::size_t numbers = 0;
  for (const double v : bands.values[m]) numbers += std::isfinite(v) ? 1 : 0;
  if (measure.quality == study::Quality::chance) {
    json["probability"] = mean_of(bands.values[m]);
  } else {
    const study::Band& band = bands.bands[m];
    json["median"] = numbers > 0 ? number_or_null(band.median) : Json(nullptr);
    json["low"] = numbers > 0 ? number_or_null(band.low) : Json(nullptr);
    json["high"] = numbers > 0 ? number_or_null(band.high) : Json(nullptr);
  }
  json["missing"] = bands.samples - bands.failed - numbers;
  if (measure.time >= 0.0 || bands.influence.empty()) return json;
  json["influences"] = Json::array();
  for (std::size_t i = 0; i < bands.inputs.size(); ++i)
    json["influences"].push_back({{"input", bands.inputs[i].path},
                                  {"first", bands.influence[m][i].first},
                                  {"total", bands.influence[m][i].total}});
  return json;
}

}  // namespace

Json uncertain_json(const line::Uncertain& uncertain) {
  return {{"name", uncertain.path},
          {"value", uncertain.quantity.value},
          {"low", uncertain.quantity.low},
          {"high", uncertain.quantity.high},
          {"spread", uncertain.quantity.spread == units::Spread::normal ? "normal" : "uniform"}};
}

std::string with_bands(const std::string& text, const study::Question& question, const study::Bands& bands,
                       const std::vector<double>& nominal) {
  Json json = Json::parse(text);
  Json& all = json["bands"];
  all["samples"] = bands.samples;
  all["seed"] = bands.seed;
  all["failed"] = bands.failed;
  all["inputs"] = Json::array();
  for (const line::Uncertain& uncertain : bands.inputs) all["inputs"].push_back(uncertain_json(uncertain));
  all["outputs"] = Json::array();
  for (std::size_t m = 0; m < question.measures.size(); ++m)
    all["outputs"].push_back(output(question, bands, nominal[m], m));
  const auto matter = study::what_matters(question, bands);
  all["measure_next"] = matter ? Json(bands.inputs.at(matter->input).path) : Json(nullptr);
  return dumped(json);
}

}  // namespace airtally::report
