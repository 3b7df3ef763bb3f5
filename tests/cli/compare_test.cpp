// Variants side by side, as they are asked for.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "cli/run.hpp"
#include "report/width.hpp"

using namespace airtally;
using Catch::Contains;
using test::run;
using Json = nlohmann::ordered_json;

namespace {

const std::string jewel = "lines/jewel-setter.toml";
const std::string twist = "lines/jewel-setter-twist.toml";

std::string out(const std::vector<std::string>& words, int code = 0) {
  const test::Ran ran = run(words);
  CAPTURE(words, ran.err);
  CHECK(ran.code == code);
  return ran.out;
}

Json json(std::vector<std::string> words) {
  words.emplace_back("--json");
  const test::Ran ran = run(words);
  CAPTURE(words, ran.err);
  REQUIRE(ran.code <= 1);
  return Json::parse(ran.out);
}

std::string refusal(const std::vector<std::string>& words) {
  const test::Ran ran = run(words);
  CAPTURE(words, ran.out);
  CHECK(ran.code == 2);
  CHECK(ran.out.empty());
  return ran.err;
}

}  // namespace

TEST_CASE("what is compared is what the other commands answer", "[cli][compare][property]") {
  const std::string change = "rotary joint.leak.clearance=30 um";
  const Json all = json({"compare", jewel, "--variant", "tighter: " + change, "--no-bands"});
  REQUIRE(all["variants"].size() == 2);
  for (std::size_t v = 0; v < 2; ++v) {
    const auto ask = [&](std::vector<std::string> words) {
      if (v == 1) words.insert(words.end(), {"--set", change});
      return json(words);
    };
    const Json& results = all["variants"][v]["results"];
    const auto tip = [&](const char* state, const char* key) {
      return ask({"steady", jewel, "--no-bands", "--tip", state})["tips"][0][key].get<double>();
    };
    CHECK(results["open_vacuum_pa"] == tip("open", "vacuum_pa"));
    CHECK(results["part_vacuum_pa"] == tip("part", "mouth_vacuum_pa"));
    CHECK(results["blocked_vacuum_pa"] == tip("blocked", "mouth_vacuum_pa"));
    CHECK(results["settle_s"] == ask({"rise", jewel})["settle_s"]);
    CHECK(results["margin_pa"] == ask({"hold", jewel, "--no-bands"})["tips"][0]["margin_pa"]);
    CHECK(results["heaviest_kg"] == ask({"hold", jewel, "--no-bands"})["tips"][0]["heaviest_kg"]);
    const Json rank = ask({"rank", jewel, "--no-bands"});
    CHECK(results["total_loss_pa"] == rank["total_loss_pa"]);
    CHECK(all["variants"][v]["culprit"] == rank["elements"][0]["name"]);
    CHECK(all["variants"][v]["culprit_share_pa"] == rank["elements"][0]["fair_share_pa"]);
    const Json cycle = ask({"cycle", jewel}), head = cycle["heads"][0];
    CHECK(results["safe_lift_s"] == head["safe_lift_s"].get<double>() - head["touch_s"].get<double>());
    CHECK(all["variants"][v]["cycle_works"] == cycle["works"]);
    const Json sense = ask({"sense", jewel});
    CHECK(results["separation"] == sense["separation"]);
    CHECK(all["variants"][v]["tells"] == sense["works"]);
  }
}

TEST_CASE("two files, and what the second is better for", "[cli][compare][property]") {
  const std::string text = out({"compare", jewel, twist});
  CHECK_THAT(text, Contains("A  Jewel setter, rotary joint") && Contains("B  Jewel setter, twisted tube"));
  CHECK_THAT(text, Contains("B (Jewel setter, twisted tube)") && Contains("holding: B has"));
  CHECK_THAT(text, Contains("rotary joint: only A has it: rotary") && Contains("twist tube: only B has it: tube"));
  CHECK_THAT(text, Contains("How sure") && Contains("Measure next:"));
  // In the pick of the [cycle] it is another moment, which sense says first.
  CHECK_THAT(text, Contains("Sensor, safe after: from touch, all at rest before it"));
  const Json all = json({"compare", jewel, twist});
  const Json& holding = all["verdict"][0];
  CHECK(holding["for"] == "holding");
  CHECK(holding["by"] == "margin_pa");
  CHECK(holding["best"] == "B");
  CHECK(holding["ahead"].get<double>() > 15e3);
  CHECK(holding["probability"] == 1.0);
  for (const Json& output : all["bands"]["outputs"]) {
    if (output["median"].is_null()) continue;
    CHECK(output["low"] <= output["median"]);
    CHECK(output["median"] <= output["high"]);
  }
  // The seed's bytes, whatever the threads.
  const std::vector<std::string> words{"compare", jewel, twist, "--json", "--samples", "32", "--threads"};
  const auto with = [&](const char* threads) {
    std::vector<std::string> more = words;
    more.emplace_back(threads);
    return out(more);
  };
  CHECK(with("1") == with("3"));
}

TEST_CASE("a comparison fits 80 columns whatever its names and however many it sets side by side",
          "[cli][compare][property]") {
  const std::string name =
      "a variant with quite a long name that goes on and on until nobody reads it any more, number ";
  std::vector<std::string> words{"compare", jewel, "--samples", "16"};
  for (int count = 1; count <= 6; ++count) {
    words.insert(words.end(),
                 {"--variant", name + std::to_string(count) + ": nozzle.bore=0." + std::to_string(count + 3) +
                                   " mm; rotary joint.leak.clearance=10.." + std::to_string(20 + count) + " um"});
    for (const bool ascii : {false, true}) {
      std::vector<std::string> all = words;
      if (ascii) all.emplace_back("--ascii");
      for (const std::string& row : test::lines_of(out(all))) {
        CAPTURE(row);
        CHECK(report::width(row) <= 80);
      }
    }
  }
}

TEST_CASE("variants that are level at the top are the best together", "[cli][compare][property]") {
  const std::vector<std::string> words{"compare",
                                       jewel,
                                       "--variant",
                                       "copy: nozzle.bore=1 mm",
                                       "--no-bands",
                                       "--variant",
                                       "loose: rotary joint.leak.clearance=60 um"};
  const std::string text = out(words);
  CHECK_THAT(text, Contains("A (Jewel setter, rotary joint) and B (copy) are the best for holding") &&
                       Contains("holding: A and B have ") && Contains(" more than C."));
  CHECK_THAT(text, !Contains("0.0 kPa more"));
  const Json all = json(words);
  CHECK(all["verdict"][0]["best"] == "A");
  CHECK(all["verdict"][0]["level"] == Json({"A", "B"}));
  CHECK(all["verdict"][0]["next"] == "C");
  CHECK(all["verdict"][0]["ahead"].get<double>() > 10e3);
  // None of three is not neither of two.
  std::vector<std::string> heavy = words;
  heavy.insert(heavy.end(), {"--set", "part.mass=1 g"});
  std::string none = out(heavy);
  for (std::size_t at = none.find("\n    "); at != std::string::npos; at = none.find("\n    "))
    none.replace(at, 5, " ");
  CHECK_THAT(none, Contains("None of them holds.") && !Contains("Neither"));
}

TEST_CASE("the help of every command fits 80 columns", "[cli][compare][property]") {
  for (const char* command :
       {"check", "steady", "rise", "cycle", "rank", "strip", "hold", "sense", "hunt", "compare", "report"})
    for (const std::string& row : test::lines_of(out({command, "--help"}))) {
      CAPTURE(command, row);
      CHECK(report::width(row) <= 80);
    }
}

TEST_CASE("comparisons that can't be made are refused with what to do", "[cli][compare][property]") {
  CHECK_THAT(refusal({"compare", jewel}), Contains("two or more"));
  CHECK_THAT(refusal({"compare", jewel, "--variant", "nozzle.bore=1 mm"}), Contains("write a name, a colon"));
  CHECK_THAT(refusal({"compare", jewel, "--variant", "same: "}),
             Contains("write a name, a colon") || Contains("sets nothing"));
  CHECK_THAT(refusal({"compare", jewel, "--variant", "x: nozzle.bor=1 mm"}), Contains("Did you mean 'bore'?"));
  CHECK_THAT(refusal({"compare", jewel, twist, "--set", "rotary joint.bore=1 mm"}), Contains("rotary joint"));
  CHECK_THAT(refusal({"compare", jewel, jewel, "--bands", "--no-bands"}), Contains("contradict"));
  CHECK_THAT(refusal({"compare"}), Contains("compare --help"));
}

TEST_CASE("variants that may lose the part are told of before who is best", "[cli][compare][cycle][property]") {
  const std::vector<std::string> both{"compare",    jewel,   "--variant",       "faster: move.travel=2000 m/s2",
                                      "--no-bands", "--set", "cycle.lift=69 ms"};
  CHECK_THAT(out(both), Contains("Not all keep their part through their cycle, since they lack vacuum: B "));
  std::vector<std::string> all = both;
  all.insert(all.end(), {"--set", "move.travel=1500 m/s2"});
  CHECK_THAT(out(all), Contains("None of them keeps its part through its cycle, since they lack vacuum: A "));
  CHECK_THAT(out({"compare", jewel, "--variant", "slower: move.travel=1 m/s2", "--no-bands"}),
             !Contains("through their cycle") && !Contains("through its cycle"));
}
