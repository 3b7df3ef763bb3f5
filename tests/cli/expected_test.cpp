// The expected result of each line in lines/ stands beside it. [regression]: these are airtally's own earlier answers,
// kept so that a change that moves them is seen; what they are held against is in tests/literature and tests/agreement.
// `sh tests/lines/refresh` writes them anew.
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/run.hpp"

using namespace airtally;
using test::run;
using Json = nlohmann::ordered_json;

namespace {

Json answer(const std::vector<std::string>& words) {
  const test::Ran ran = run(words);
  CAPTURE(words, ran.err);
  REQUIRE(ran.code == 0);
  return Json::parse(ran.out);
}

Json picked(const Json& from, std::initializer_list<const char*> keys) {
  Json json;
  for (const char* key : keys) json[key] = from.at(key);
  return json;
}

Json each(const Json& list, std::initializer_list<const char*> keys) {
  Json json = Json::array();
  for (const Json& one : list) json.push_back(picked(one, keys));
  return json;
}

Json steady(const std::string& file, const char* tip) {
  const Json all = answer({"steady", file, "--json", "--tip", tip});
  Json json;
  json["elements"] = each(all["elements"], {"name", "vacuum_pa", "flow_kg_s", "leak_kg_s"});
  json["tips"] = each(all["tips"], {"name", "vacuum_pa", "mouth_vacuum_pa"});
  return json;
}

bool has_cycle(const std::string& file) {
  std::ifstream in(AIRTALLY_SOURCE_DIR "/" + file);
  for (std::string row; std::getline(in, row);)
    if (row == "[cycle]") return true;
  return false;
}

/// The part of the answers that is kept.
Json result(const std::string& file) {
  Json json;
  json["line"] = answer({"check", file, "--json"})["line"];
  for (const char* tip : {"open", "part"}) json["steady"][tip] = steady(file, tip);
  json["rise"]["tips"] = each(answer({"rise", file, "--json"})["tips"], {"name", "settle_s", "final_vacuum_pa"});
  const Json rank = answer({"rank", file, "--json"});
  json["rank"] = picked(rank, {"tip", "nozzle", "tip_vacuum_pa", "ideal_vacuum_pa", "total_loss_pa"});
  json["rank"]["elements"] =
      each(rank["elements"], {"name", "leak_gain_pa", "restriction_gain_pa", "fair_share_pa", "reach_gain_s"});
  if (has_cycle(file))
    json["cycle"]["heads"] =
        each(answer({"cycle", file, "--json"})["heads"],
             {"name", "works", "safe_lift_s", "let_go_s", "blow_pa", "margin_at_lift_pa", "margin_in_travel_pa"});
  json["strip"]["culprit"] = answer({"strip", file, "--json"})["culprit"];
  return json;
}

std::string expected_file(const std::string& file) {
  return std::string(AIRTALLY_SOURCE_DIR "/") + file.substr(0, file.size() - 5) + ".expected.json";
}

/// How far a number may be from the one beside the line. 1e-6 of the number, and of what the numbers are differences
/// of: vacuums of 5e4 Pa, flows of 1e-5 kg/s (the steady solve balances to 1e-9 of those). Times: the integrator is
/// held to 1e-6 a step, and which steps it takes hangs on the last bits, which differ between machines: 1e-5, and a
/// microsecond for the differences.
double allowed(const std::string& key, double value) {
  if (key.ends_with("_pa")) return 1e-6 * std::abs(value) + 0.05;
  if (key.ends_with("_kg_s")) return 1e-6 * std::abs(value) + 1e-11;
  return 1e-5 * std::abs(value) + 1e-6;
}

/// Where an answer is no longer the expected one, a line each.
std::string apart(const Json& is, const Json& expected, const std::string& path, const std::string& key) {
  const std::string here = path + ": " + is.dump() + ", expected " + expected.dump() + '\n';
  if (is.is_number() && expected.is_number())
    return std::abs(is.get<double>() - expected.get<double>()) <= allowed(key, expected.get<double>()) ? "" : here;
  if (!expected.is_structured()) return is == expected ? "" : here;
  if (is.type() != expected.type() || is.size() != expected.size()) return here;
  std::string all;
  for (const auto& [inner, value] : expected.items()) {
    if (expected.is_object() && !is.contains(inner)) return here;
    all += apart(expected.is_array() ? is[std::stoul(inner)] : is[inner], value, path + "/" + inner,
                 expected.is_array() ? key : inner);
  }
  return all;
}

/// The elements of a ranking in the order of another, so that what costs the same may stand in any order.
Json in_order_of(const Json& ranked, const Json& other) {
  Json sorted = Json::array();
  for (const Json& wanted : other)
    for (const Json& one : ranked)
      if (one["name"] == wanted["name"]) sorted.push_back(one);
  return sorted;
}

}  // namespace

TEST_CASE("every line gives the result that stands beside it", "[cli][regression]") {
  REQUIRE(test::line_files().size() >= 4);
  for (const std::string& file : test::line_files()) {
    CAPTURE(file);
    std::ifstream in(expected_file(file));
    REQUIRE(in);
    const Json expected = Json::parse(in);
    Json is = result(file);
    double before = 0.0;
    bool first = true;
    for (const Json& one : is["rank"]["elements"]) {  // worst first
      const double share = one["fair_share_pa"].get<double>();
      CHECK((first || share <= before + allowed("_pa", before)));
      before = share;
      first = false;
    }
    is["rank"]["elements"] = in_order_of(is["rank"]["elements"], expected["rank"]["elements"]);
    CHECK(is["rank"]["elements"][0]["name"] == expected["rank"]["elements"][0]["name"]);
    CHECK(apart(is, expected, "", "") == "");
  }
}

// Hidden: run by tests/lines/refresh only. What still holds is left as it is, or its last digits would move.
TEST_CASE("write the results beside the lines", "[.refresh]") {
  for (const std::string& file : test::line_files()) {
    const Json is = result(file);
    std::ifstream in(expected_file(file));
    const Json expected = Json::parse(in, nullptr, false);  // discarded where there is none yet
    if (!expected.is_discarded()) {
      Json sorted = is;
      sorted["rank"]["elements"] = in_order_of(is["rank"]["elements"], expected["rank"]["elements"]);
      if (apart(sorted, expected, "", "").empty()) continue;
    }
    std::ofstream out(expected_file(file));
    out << is.dump(1) << '\n';
    CHECK(out.good());
  }
}
