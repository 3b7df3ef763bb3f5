#include "gas/air.hpp"
#include "hunt/beliefs/priors.hpp"
#include "hunt/judgement.hpp"
#include "hunt/readings/cut.hpp"
#include "line/topology.hpp"
#include "report/hunt_text.hpp"
#include "report/json_private.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

constexpr double free_ml_min = gas::free_air_density * 1e-6 / 60.0;  // kg/s in one millilitre of free air a minute

Json interval(const hunt::Interval& i, double unit = 1.0) {
  Json json;
  put(json, "median", i.median / unit);
  put(json, "low", i.low / unit);
  put(json, "high", i.high / unit);
  return json;
}

std::string key_of(hunt::Instrument instrument) {
  return instrument == hunt::Instrument::vacuum    ? "vacuum_pa"
         : instrument == hunt::Instrument::plugged ? "plug_vacuum_pa"
         : instrument == hunt::Instrument::current ? "current_a"
         : instrument == hunt::Instrument::inflow  ? "inflow_kg_s"
                                                   : "flow_kg_s";
}

void put_setting(Json& json, const line::Line& line, const hunt::Setting& setting) {
  if (setting.cap) json["cap"] = line.elements.at(*setting.cap).name;
  for (const std::size_t i : setting.off) json["off"].push_back(line.elements.at(i).name);
  if (!setting.cap) {
    const std::vector<solve::TipState> left = hunt::cut(line, line::topology(line, false), setting).tips;
    json["tip"] = word(std::span<const solve::TipState>(left));
  }
  if (setting.hole > 0.0) put(json, "hole_m", setting.hole);
}

void put_dial(Json& json, const line::Line& line, const hunt::Dial& dial) {
  json["at"] = line.elements.at(dial.at).name;
  json["reads"] = key_of(dial.instrument);
  put(json, "expected", dial.expected);
}

Json test_json(const line::Line& line, const hunt::NextTest& test) {
  Json json;
  put_setting(json, line, test.setting);
  put_dial(json, line, test.dials.front());
  json["also"] = Json::array();
  for (std::size_t d = 1; d < test.dials.size(); ++d) {
    Json also;
    put_dial(also, line, test.dials[d]);
    json["also"].push_back(also);
  }
  put(json, "bits", test.information.bits);
  put(json, "effort", test.effort);
  json["outcomes"] = Json::array();
  for (const hunt::Outcome& outcome : test.information.outcomes) {
    Json one;
    put(one, "low", outcome.low);
    put(one, "high", outcome.high);
    one["worst"] = line.elements.at(outcome.element).name;
    put(one, "probability", outcome.probability);
    put(one, "chance", outcome.chance);
    one["cleared"] = Json::array();
    for (std::size_t i : outcome.cleared) one["cleared"].push_back(line.elements.at(i).name);
    json["outcomes"].push_back(one);
  }
  return json;
}

std::string what(const hunt::Unknown& unknown) {
  switch (unknown.what) {
    case hunt::What::seal:
      return "seal";
    case hunt::What::hole_share:
      return "hole-share";
    case hunt::What::plate:
      return "plate";
    case hunt::What::pump_flow:
      return "pump-flow";
    case hunt::What::pump_vacuum:
      return "pump-vacuum";
    case hunt::What::offset:
      return unknown.instrument == hunt::Instrument::vacuum    ? "gauge-offset-pa"
             : unknown.instrument == hunt::Instrument::plugged ? "plug-gauge-offset-pa"
             : unknown.instrument == hunt::Instrument::current ? "ammeter-offset-a"
                                                               : "flow-meter-offset";
    default:
      return "other";
  }
}

Json finding_json(const line::Line& line, const hunt::Finding& f) {
  Json one{{"name", line.elements.at(f.element).name}};
  one["leak_ml_min"] = interval(f.leak, free_ml_min);
  one["open_fraction"] = f.open_fraction ? interval(*f.open_fraction) : Json(nullptr);
  one["filed_open_fraction"] = f.open_fraction ? Json(f.filed_open) : Json(nullptr);
  one["bore_m"] = f.bore ? interval(*f.bore) : Json(nullptr);
  one["cost_pa"] = interval(f.cost);
  one["excess_pa"] = interval(f.excess);
  put(one, "amiss_probability", f.amiss);
  one["instead"] = f.instead ? Json(line.elements.at(*f.instead).name) : Json(nullptr);
  put(one, "filed_leak_ml_min", f.filed_leak / free_ml_min);
  put(one, "worst_probability", f.worst_probability);
  one["only_prior"] = f.only_prior;
  return one;
}

Json nuisance_json(const line::Line& line, const hunt::Nuisance& n) {
  Json one{{"name", line.elements.at(n.unknown.element).name}, {"what", what(n.unknown)}, {"value", interval(n.value)}};
  const bool plate = n.unknown.what == hunt::What::plate;
  if (n.unknown.instrument == hunt::Instrument::plugged || n.unknown.what == hunt::What::hole_share || plate)
    one["name"] = nullptr;  // it is wherever it was put, or of the whole line
  if (plate) put(one, "hole_m", n.unknown.hole);
  return one;
}

Json compared_json(const line::Line& line, const hunt::Compared& c) {
  Json one;
  put_setting(one, line, c.reading.setting);
  one["at"] = line.elements.at(c.reading.at).name;
  put(one, key_of(c.reading.instrument), c.reading.value);
  one["predicted"] = interval(c.predicted);
  put(one, "filed", c.filed);
  put(one, "missed", c.missed);
  put(one, "spare", c.spare);
  return one;
}

Json names_json(const line::Line& line, const std::vector<std::size_t>& elements) {
  Json names = Json::array();
  for (const std::size_t i : elements) names.push_back(line.elements.at(i).name);
  return names;
}

void put_alike(Json& json, const line::Line& line, const hunt::Hunt& hunt) {
  json["alike"] = Json::array();
  for (const std::vector<std::size_t>& group : hunt.alike) json["alike"].push_back(names_json(line, group));
  json["look_alikes"] = Json::array();
  json["separating"] = Json::array();
  for (const hunt::LookAlikes& group : hunt.look_alikes) {
    json["look_alikes"].push_back(names_json(line, group.elements));
    json["separating"].push_back(group.test ? test_json(line, *group.test) : Json(nullptr));
  }
}

void put_suspects(Json& json, const line::Line& line, const hunt::Hunt& hunt) {
  json["rivals"] = names_json(line, hunt.rivals);
  json["amiss_among"] = names_json(line, hunt.amiss_among);
  json["unsound"] = hunt.unsound > 0.0 ? Json(hunt.unsound) : Json(nullptr);
  json["among_shut"] = hunt.amiss_among.empty() ? Json(nullptr) : Json(hunt.among_shut);
  json["among_excess_pa"] = hunt.amiss_among.empty() ? Json(nullptr) : interval(hunt.among_excess);
  json["hidden"] = names_json(line, hunt.hidden);
}

Json fit_json(const hunt::Quality& quality) {
  Json fit;
  put(fit, "chi_square", quality.chi_square);
  put(fit, "freedom", quality.freedom);
  put(fit, "chance", quality.chance);
  fit["bad"] = quality.bad;
  fit["worst_reading"] = quality.worst ? Json(*quality.worst) : Json(nullptr);
  return fit;
}

Json sampling_json(const hunt::Hunt& hunt) {
  Json sampling{{"samples", hunt.samples}, {"peaks", hunt.peaks}, {"quick", hunt.quick}};
  put(sampling, "effective", hunt.effective);
  put(sampling, "r_hat", hunt.r_hat);
  put(sampling, "agreement", hunt.agreement);
  sampling["converged"] = hunt.converged;
  return sampling;
}

}  // namespace

std::string hunt_json(const line::Line& line, const hunt::Hunt& hunt) {
  Json json = json_head(line, "hunt");
  json["prior_only"] = hunt.prior_only;
  json["elements"] = Json::array();
  for (const hunt::Finding& finding : hunt.elements) json["elements"].push_back(finding_json(line, finding));
  json["others"] = Json::array();
  for (const hunt::Nuisance& other : hunt.others) json["others"].push_back(nuisance_json(line, other));
  json["readings"] = Json::array();
  for (const hunt::Compared& reading : hunt.readings) json["readings"].push_back(compared_json(line, reading));
  json["set_aside"] = Json::array();
  for (const hunt::Impossible& aside : hunt.set_aside)
    json["set_aside"].push_back(Json{{"where", to_string(aside.reading.where)}, {"sentence", aside.sentence}});
  json["remarks"] = hunt.remarks;
  put_alike(json, line, hunt);
  put_suspects(json, line, hunt);
  json["next"] = Json::array();
  for (const hunt::NextTest& test : hunt.next) json["next"].push_back(test_json(line, test));
  json["further"] = hunt::further_test(hunt);
  json["with_plug_gauge"] = hunt.with_plug_gauge ? test_json(line, *hunt.with_plug_gauge) : Json(nullptr);
  json["fit"] = fit_json(hunt.quality);
  json["sampling"] = sampling_json(hunt);
  json["sure"] = hunt::verdict(hunt) == hunt::Verdict::sure;
  json["verdict"] = hunt_verdict(line, hunt, Look{});
  return dumped(json);
}

}  // namespace airtally::report
