#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "lines/lines.hpp"
#include "report/hold_text.hpp"
#include "report/outage_text.hpp"
#include "report/width.hpp"
#include "study/rim.hpp"

using namespace airtally;
using Json = nlohmann::ordered_json;

namespace {

bool says(const std::string& text, const std::string& sentence) {
  std::string flat;
  for (const char c : text) flat += c == '\n' ? ' ' : c;
  return flat.find(sentence) != std::string::npos;
}

}  // namespace

TEST_CASE("hold says in words what it needs, has and would lose first", "[report][hold][property]") {
  line::Line line = test::scenario("jewel-setter");
  const std::string holds = report::hold_text(line, study::hold(line), {});
  CHECK(says(holds, "The nozzle holds the part: its moves need "));
  CHECK(says(holds, "at the widest gap of 6.0 um"));
  CHECK(says(holds, " to spare. Asked for more, it would first slide on the rim."));
  CHECK(says(holds, "safety sideways 4 (line file)"));
  line.move.reset();
  line.part->gap = 0.0;
  line.part->mass = 5e-3;
  const std::string drops = report::hold_text(line, study::hold(line), {});
  CHECK(says(drops, "The nozzle does not hold the part: its moves need "));
  // 5 g on 1 mm, twice: more than the room has.
  CHECK(says(drops, " too little. No vacuum can: all that the room has is 97.3 kPa."));
  CHECK(says(drops, "safety lifting 2 (common practice)"));
  CHECK(says(drops, "Note: no acceleration is given: the part is held at rest only."));
  CHECK(says(drops, "  none"));
  line.part->mass = 3e-3;
  CHECK(says(report::hold_text(line, study::hold(line), {}), " too little. It would drop."));
}

TEST_CASE("hold says the room's pressure in the unit of its vacuum", "[report][hold]") {
  report::Look look;
  look.vacuum = units::find_unit("mbar", units::Dimension::pressure);
  const line::Line line = test::scenario("jewel-setter");
  const std::string text = report::hold_text(line, study::hold(line), look);
  CHECK(says(text, "The room has 973.1 mbar."));
  CHECK_FALSE(says(text, "kPa"));
}

TEST_CASE("what holds by a rim that seals alone is held on that condition", "[report][hold][property]") {
  line::Line line = test::scenario("jewel-setter");
  line.move.emplace();
  line.move->seal = line::SealAt::rim;
  line.part->gap = 10e-6;
  line.part->mass = 1e-6;
  const std::string condition = "holds the part, but only if its rim seals at the outer edge: its moves need ";
  CHECK_FALSE(says(report::hold_text(line, study::hold(line), {}), condition));
  // Just under what is there: too much where air creeps in under the rim.
  const study::TipHold light = study::hold(line).tips.front();
  REQUIRE(study::creeping_share(line, light.element) < 0.9);
  line.part->mass = 0.95 * light.heaviest;
  const study::Hold heavy = study::hold(line);
  REQUIRE(heavy.holds());
  CHECK(says(report::hold_text(line, heavy, {}), condition));
  line.part->gap = 0.0;
  CHECK_FALSE(says(report::hold_text(line, study::hold(line), {}), condition));
}

TEST_CASE("hold asks rank with the same tips", "[report][hold][property]") {
  const line::Line line = test::scenario("two-spindle-sorter");
  using solve::TipState;
  const std::vector<TipState> tips{TipState::open, TipState::part};
  CHECK(says(report::hold_text(line, study::hold(line, tips), {}), " --tip 'nozzle 1=open' --objective hold"));
  CHECK_FALSE(says(report::hold_text(line, study::hold(line), {}), "--tip"));
}

TEST_CASE("hold's text fits 80 columns whatever the line", "[report][hold][property]") {
  for (const char* name : {"jewel-setter", "jewel-setter-twist", "seed-tray", "two-spindle-sorter"}) {
    line::Line line = test::scenario(name);
    line.file = std::string("lines/") + name + ".toml";  // a command to be typed is as long as the path in it
    std::stringstream text(report::hold_text(line, study::hold(line), {}));
    for (std::string row; std::getline(text, row);) {
      CAPTURE(row);
      CHECK(report::width(row) <= 80);
    }
  }
}

TEST_CASE("how long a part hangs on when the vacuum fails is said", "[report][hold]") {
  const line::Line stated = test::scenario("ejector-head");
  const study::Hold hold = study::hold(stated);
  std::vector<study::Outage> outages = study::outages(stated, hold);
  outages.at(0).tips.at(0).moves = 0.0309;
  outages.at(0).tips.at(0).weight.reset();
  const std::string known = report::hold_text(stated, hold, {}, outages);
  INFO(known);
  CHECK(says(known, "30.9 ms       over an hour"));
  CHECK_FALSE(says(known, "The first time is for"));
  CHECK(says(known, "A valve that vents when its own power fails lets go at once."));
  CHECK(says(known, "at the part's widest gap."));
  CHECK(says(known, "enough to move: with the safety that its moves are given;"));
  CHECK_FALSE(says(report::hold_text(stated, hold, {}), "if the vacuum fails"));

  const line::Line line = test::scenario("jewel-setter");
  outages = study::outages(line, study::hold(line));
  REQUIRE(outages.size() == 2);
  outages[1].tips[0].moves = 0.0119;
  outages[0].tips[0].moves = 0.85;
  const std::string between = report::hold_text(line, study::hold(line), {}, outages);
  CHECK(says(between, "11.9 ms .. 850 ms"));
  CHECK(says(between, "The first time is for a source that lets the room's air in"));
  CHECK(report::outage_sentence(outages).find("for 11.9 ms .. 850 ms and enough to hang on for ") != std::string::npos);
  outages[1] = outages[0];
  CHECK_FALSE(says(report::hold_text(line, study::hold(line), {}, outages), " .. "));
}

TEST_CASE("hold's JSON carries the answer exactly", "[report][hold][property]") {
  line::Line line = test::scenario("two-spindle-sorter");
  const study::Hold hold = study::hold(line);
  const Json json = Json::parse(report::hold_json(line, hold));
  CHECK(json["command"] == "hold");
  CHECK(json["holds"] == true);
  CHECK(json["weakest"] == "nozzle 2");
  CHECK(json["part"] == "ceramic chip");
  const Json& tip = json["tips"][1];
  CHECK(tip["needed_pa"]["slide"].get<double>() == hold.tips[1].needed[1]);
  CHECK(tip["vacuum_pa"]["least"].get<double>() == hold.tips[1].least.vacuum);
  CHECK(tip["gap_m"]["most"].get<double>() == hold.tips[1].most.gap);
  CHECK(tip["margin_pa"].get<double>() == hold.tips[1].margin);
  CHECK(tip["most_travel_m_s2"].get<double>() == hold.tips[1].most_travel.value());
  CHECK(json["factors"][2]["origin"] == "line file");
  CHECK(json["factors"][0]["origin"] == "common practice");
  const std::vector<study::Outage> outages = study::outages(line, hold);
  const Json failing = Json::parse(report::hold_json(line, hold, outages))["outages"];
  REQUIRE(failing.size() == 2);
  CHECK(failing[1]["unstated"] == "open");
  CHECK(failing[1]["tips"][0]["name"] == "nozzle 1");
  CHECK(failing[1]["tips"][0]["moves_s"].get<double>() == outages[1].tips[0].moves.value());
  CHECK(failing[0]["tips"][1]["weight_s"].get<double>() == outages[0].tips[1].weight.value());
  line.part->mass = 0.1;
  const Json heavy = Json::parse(report::hold_json(line, study::hold(line)));
  CHECK(heavy["holds"] == false);
  CHECK(heavy["tips"][0]["most_lift_m_s2"].is_null());
}
