#include "report/hunt_words_private.hpp"
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
  const auto cap = [&](const std::optional<std::size_t>& i) {
    return i ? Json(line.elements.at(strip.steps[all.list[*i].step].cap).name) : Json(nullptr);
  };
  json["measured_branches"] = Json::array();
  const auto off = [&](const hunt::BesideBranch& b) {
    Json names = Json::array();
    for (const std::size_t i : b.off) names.push_back(line.elements.at(i).name);
    return names;
  };
  for (const hunt::BesideBranch& b : all.branches) {
    const std::string unit = is_gauge(b.instrument) ? "_pa" : "_a";
    Json one{{"off", off(b)}, {"at", line.elements.at(b.at).name}};
    put(one, "read" + unit, b.read);
    put(one, "predicted" + unit, b.predicted);
    put_or_null(one, "surprise" + unit, b.compared ? std::optional(b.surprise) : std::nullopt);
    json["measured_branches"].push_back(one);
  }
  using Kind = hunt::BranchFinding::Kind;
  const hunt::BranchFinding& finding = all.branch_finding;
  const std::pair<Kind, const char*> words[] = {{Kind::contradicted, "contradicted"},
                                                {Kind::branch, "branch"},
                                                {Kind::elsewhere, "elsewhere"},
                                                {Kind::above, "above"},
                                                {Kind::better, "better"}};
  json["surprise_branch"] = finding.kind == Kind::branch ? off(all.branches[finding.reading]) : Json(nullptr);
  json["branches_say"] = nullptr;
  for (const auto& [kind, word] : words)
    if (kind == finding.kind) json["branches_say"] = word;
  json["surprise"] = cap(all.worst);
  json["in_doubt"] = Json::array();
  for (const std::size_t e : all.in_doubt) json["in_doubt"].push_back(line.elements.at(e).name);
  const std::optional<Misread> misread = misread_of(line, strip, all);
  json["misread"] = cap(misread ? std::optional(misread->reading) : std::nullopt);
  json["spared"] = cap(all.spared);
  json["too_low"] = cap(all.off);
  json["too_high"] = cap(all.above);
  json["contradictions"] = Json::array();
  for (const hunt::Contradiction& c : all.contradictions) {
    const hunt::Beside& nearer = all.list[c.nearer];
    Json one{{"caps", {cap(c.nearer), cap(c.beyond)}}, {"at", line.elements.at(nearer.at).name}};
    put(one, is_gauge(nearer.instrument) ? "by_pa" : "by_a", c.by);
    json["contradictions"].push_back(one);
  }
  json["set_aside"] = Json::array();
  for (const hunt::Impossible& aside : all.set_aside)
    json["set_aside"].push_back(Json{{"where", to_string(aside.reading.where)}, {"sentence", aside.sentence}});
  json["left_out"] = all.others;
  json["left_out_far"] = nullptr;
  if (const auto& far = all.far) {
    const std::string unit = is_gauge(far->instrument) ? "_pa" : "_a";
    Json one{{"setting", setting_phrase(line, far->setting)}, {"at", line.elements.at(far->at).name}};
    put(one, "read" + unit, far->read);
    put(one, "predicted" + unit, far->predicted);
    json["left_out_far"] = one;
  }
  return dumped(json);
}

}  // namespace airtally::report
