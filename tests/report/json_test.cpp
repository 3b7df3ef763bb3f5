#include "report/json.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "errors.hpp"
#include "sample.hpp"

using namespace airtally;
using Json = nlohmann::ordered_json;

namespace {

const std::vector<solve::TipState> part{solve::TipState::part};

void has(const Json& json, std::initializer_list<const char*> keys) {
  for (const char* key : keys) {
    CAPTURE(key);
    CHECK(json.contains(key));
  }
}

Json parsed(const std::string& text, const std::string& command) {
  CHECK(text.back() == '\n');
  Json json = Json::parse(text);
  CHECK(json["format"] == 1);
  CHECK(json["command"] == command);
  CHECK(json["line"] == "Sample");
  return json;
}

}  // namespace

TEST_CASE("the JSON of every command has the keys that others rely on", "[report][property]") {
  const line::Line line = sample::line();
  SECTION("check") {
    const Json json = parsed(report::check_json(line, {{1, "it leaks."}}), "check");
    has(json["elements"][1], {"name", "kind", "after", "assumed"});
    CHECK(json["elements"][0]["after"].is_null());
    CHECK(json["elements"][1]["after"] == "pump");
    CHECK(json["elements"][1]["assumed"][0] == "roughness not given: smooth");
    CHECK(json["warnings"][0] == Json{{"element", "hose"}, {"sentence", "it leaks."}});
  }
  SECTION("steady") {
    const Json json = parsed(report::steady_json(line, sample::steady()), "steady");
    has(json, {"tip", "ambient_pa", "elements", "tips", "sources", "worst_balance"});
    has(json["elements"][1], {"name", "kind", "vacuum_pa", "pressure_pa", "flow_kg_s", "drop_pa", "leak_kg_s"});
    has(json["tips"][0], {"name", "vacuum_pa", "mouth_vacuum_pa", "flow_kg_s"});
    has(json["sources"][0], {"name", "vacuum_pa", "flow_kg_s"});
    CHECK(json["tip"] == "part");
    CHECK(!json["elements"][0].contains("drop_pa"));  // a pump has none
    CHECK(json["elements"][1]["kind"] == "tube");
  }
  SECTION("rise") {
    const Json json = parsed(report::rise_json(line, part, sample::rise()), "rise");
    has(json, {"tip", "settle_s", "final_vacuum_pa", "tips", "samples"});
    has(json["tips"][0], {"name", "settle_s", "final_vacuum_pa"});
    CHECK(json["samples"].size() == 21);
    CHECK(json["samples"][20]["time_s"] == 0.1);
    CHECK(json["samples"][20]["vacuum_pa"]["nozzle"] == 41324.9);
  }
  SECTION("rank") {
    const Json json = parsed(report::rank_json(line, sample::rank()), "rank");
    has(json, {"objective", "elements", "total_loss_pa"});
    CHECK(json["objective"] == "tip-vacuum");
    has(json["elements"][0],
        {"name", "leak_kg_s", "leak_share", "leak_gain_pa", "restriction_gain_pa", "fair_share_pa", "settle_gain_s"});
    CHECK(json["elements"][0]["name"] == "hose");  // worst first
  }
  SECTION("strip") {
    const Json json = parsed(report::strip_json(line, sample::strip()), "strip");
    has(json, {"steps", "culprit"});
    has(json["steps"][2], {"cap", "readings", "change_pa"});
    has(json["steps"][2]["readings"][0], {"at", "vacuum_pa", "current_a"});
    CHECK(json["steps"][2]["readings"][0]["current_a"].is_null());
    CHECK(json["steps"][2]["readings"][1]["current_a"] == 0.36);
    CHECK(json["culprit"] == "hose");
    study::Strip clear = sample::strip();
    clear.culprit.reset();
    CHECK(Json::parse(report::strip_json(line, clear))["culprit"].is_null());
  }
}

TEST_CASE("numbers come back from JSON exactly", "[report][property]") {
  for (const double value : {0.1, 1.0 / 3.0, 5e-324, 1.7976931348623157e308, 41324.900000000001, -2.2e-16}) {
    solve::SteadyAnswer answer = sample::steady();
    answer.elements[1].drop = value;
    const Json json = Json::parse(report::steady_json(sample::line(), answer));
    CHECK(json["elements"][1]["drop_pa"].get<double>() == value);
  }
  CHECK(report::steady_json(sample::line(), sample::steady()).find("41324.9,") != std::string::npos);
}

TEST_CASE("what is not finite never gets into JSON", "[report][property]") {
  for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity()}) {
    solve::SteadyAnswer answer = sample::steady();
    answer.tips[0].mouth_vacuum = bad;
    CHECK_THROWS_WITH(report::steady_json(sample::line(), answer), "JSON: 'mouth_vacuum_pa' is not a finite number.");
    study::Strip strip = sample::strip();
    strip.steps[1].readings[0].current = bad;
    CHECK_THROWS_AS(report::strip_json(sample::line(), strip), DomainError);
  }
}

TEST_CASE("mixed tips say so, and each says its own", "[report][property]") {
  solve::SteadyAnswer answer = sample::steady();
  answer.tips.push_back({3, solve::TipState::open, 1.0, 0.0, 1e-5});
  const Json json = Json::parse(report::steady_json(sample::line(), answer));
  CHECK(json["tip"] == "mixed");
  CHECK(json["tips"][1]["tip"] == "open");
}
