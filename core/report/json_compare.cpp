#include <cmath>

#include "report/compare_text.hpp"
#include "report/json_bands_private.hpp"

namespace airtally::report {
namespace {

Json probability(const std::optional<double>& value) { return value ? Json(*value) : Json(nullptr); }

Json value_json(const std::optional<line::Difference::Value>& value) {
  if (!value) return nullptr;
  if (const auto* word = std::get_if<std::string>(&*value)) return *word;
  const auto& quantity = std::get<units::Quantity>(*value);
  if (quantity.is_exact()) return quantity.value;
  return {{"value", quantity.value}, {"low", quantity.low}, {"high", quantity.high}};
}

Json variant_json(const study::Variant& variant, const study::VariantAnswer& answer, std::size_t v) {
  Json json{{"letter", letter(v)}, {"name", variant.name}, {"file", variant.line.file}};
  json["results"] = Json::object();
  json["never"] = Json::array();
  for (std::size_t r = 0; r < study::results().size(); ++r) {
    const std::string key(study::results()[r].key);
    json["results"][key] = number_or_null(answer.values[r]);
    if (std::isinf(answer.values[r])) json["never"].push_back(key);
  }
  json["culprit"] = answer.culprit ? Json(variant.line.elements.at(*answer.culprit).name) : Json(nullptr);
  put(json, "culprit_share_pa", answer.culprit_share);
  json["cycle_works"] = answer.cycle_works ? Json(*answer.cycle_works) : Json(nullptr);
  const auto told = [](const std::optional<bool>& tells) { return tells ? Json(*tells) : Json(nullptr); };
  json["tells"] = told(answer.tells);
  json["tells_at_rest"] = told(answer.tells_at_rest);
  json["tells_set_best"] = told(answer.tells_set_best);
  return json;
}

Json judgement_json(const study::Comparison& comparison, const study::Judgement& judgement,
                    const study::CompareBands& bands) {
  const auto of = [&](std::size_t v) { return comparison.variants[v].values[judgement.result]; };
  Json json{{"for", study::word(judgement.aim)}, {"by", study::results()[judgement.result].key}};
  json["alike"] = judgement.alike;
  json["best"] = letter(judgement.best);
  json["level"] = Json::array();
  for (const std::size_t v : judgement.level) json["level"].push_back(letter(v));
  json["next"] = letter(judgement.next);
  json["ahead"] = number_or_null(std::fabs(of(judgement.best) - of(judgement.next)));
  json["probability"] = nullptr;
  for (std::size_t r = 0; r < bands.drawn.size(); ++r)
    if (bands.samples > 0 && bands.drawn[r] == judgement.result)
      json["probability"] = probability(bands.best_of(r, judgement.level));
  return json;
}

Json bands_json(std::span<const study::Variant> variants, const study::CompareBands& bands) {
  Json all;
  all["samples"] = bands.samples;
  all["seed"] = bands.seed;
  all["failed"] = bands.failed;
  all["inputs"] = Json::array();
  for (const line::Uncertain& input : bands.inputs) all["inputs"].push_back(uncertain_json(input));
  all["outputs"] = Json::array();
  all["beats"] = Json::array();
  for (std::size_t r = 0; r < bands.drawn.size(); ++r) {
    const std::string key(study::results()[bands.drawn[r]].key);
    for (std::size_t v = 0; v < variants.size(); ++v) {
      const auto& of = bands.values[r][v];
      std::size_t numbers = 0;
      for (const double x : of) numbers += std::isfinite(x) ? 1 : 0;
      const study::Band band = study::band_of(of);
      Json one{{"key", key}, {"variant", letter(v)}};
      one["median"] = numbers > 0 ? number_or_null(band.median) : Json(nullptr);
      one["low"] = numbers > 0 ? number_or_null(band.low) : Json(nullptr);
      one["high"] = numbers > 0 ? number_or_null(band.high) : Json(nullptr);
      one["missing"] = of.size() - numbers;
      one["best_probability"] = probability(bands.best(r, v));
      all["outputs"].push_back(one);
      for (std::size_t w = 0; w < variants.size(); ++w)
        if (w != v)
          all["beats"].push_back(
              {{"key", key}, {"variant", letter(v)}, {"other", letter(w)}, {"probability", bands.beats(r, v, w)}});
    }
  }
  all["worst"] = Json::array();
  for (std::size_t v = 0; v < bands.worst.size(); ++v)
    for (std::size_t e = 0; e < bands.worst[v].size(); ++e)
      all["worst"].push_back({{"variant", letter(v)},
                              {"name", variants[v].line.elements.at(e).name},
                              {"worst_probability", bands.worst[v][e]}});
  all["influences"] = Json::array();
  std::size_t most = 0;
  for (std::size_t i = 0; i < bands.influence.size(); ++i) {
    const study::Influence& influence = bands.influence[i];
    all["influences"].push_back(
        {{"input", bands.inputs[i].path}, {"first", influence.first}, {"total", influence.total}});
    if (influence.first > bands.influence[most].first) most = i;
  }
  const bool any = !bands.influence.empty() && bands.influence[most].total > 0.0;
  all["measure_next"] = any ? Json(bands.inputs[most].path) : Json(nullptr);
  return all;
}

}  // namespace

std::string compare_json(std::span<const study::Variant> variants, const study::Comparison& comparison,
                         const study::CompareBands& bands) {
  Json json = json_head(variants.front().line, "compare");
  json["variants"] = Json::array();
  for (std::size_t v = 0; v < variants.size(); ++v)
    json["variants"].push_back(variant_json(variants[v], comparison.variants[v], v));
  put(json, "common_vacuum_pa", comparison.common_vacuum);
  json["differences"] = Json::array();
  for (const line::Difference& difference : comparison.differences) {
    Json one{{"of", difference.owner}};
    one["key"] = difference.key.empty() ? Json(nullptr) : Json(difference.key);
    one["values"] = Json::array();
    for (const auto& value : difference.values) one["values"].push_back(value_json(value));
    json["differences"].push_back(one);
  }
  json["verdict"] = Json::array();
  for (const study::Judgement& judgement : comparison.judgements)
    json["verdict"].push_back(judgement_json(comparison, judgement, bands));
  if (bands.samples > 0) json["bands"] = bands_json(variants, bands);
  return dumped(json);
}

}  // namespace airtally::report
