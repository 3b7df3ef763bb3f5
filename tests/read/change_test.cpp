// A value set from outside is the value written into the file.
#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

#include "read/line_file.hpp"
#include "report/json.hpp"
#include "solve/answer.hpp"

using namespace airtally;
using Catch::Contains;

namespace {

const std::string folder = AIRTALLY_LINES;

std::string text_of(const std::string& file) {
  std::ifstream in(folder + "/" + file);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

std::string replaced(std::string text, const std::string& old, const std::string& with) {
  const std::size_t at = text.find(old);
  REQUIRE(at != std::string::npos);
  REQUIRE(text.find(old, at + 1) == std::string::npos);
  return text.replace(at, old.size(), with);
}

line::Line changed(const std::string& text, const std::vector<std::string>& sets = {}) {
  std::vector<read::Change> changes;
  for (const std::string& set : sets) changes.push_back(read::change_of(set));
  return read::read_line_text(text, "line.toml", {folder + "/catalogue"}, changes);
}

std::string answer(const line::Line& line) {
  return report::check_json(line, {}) + report::steady_json(line, solve::steady(line, solve::usual_tips(line)));
}

std::string change_refusal(const std::vector<std::string>& sets) {
  try {
    changed(text_of("jewel-setter.toml"), sets);
  } catch (const BadInput& error) {
    return error.what();
  }
  return "nothing was refused";
}

}  // namespace

TEST_CASE("setting a value equals editing the file", "[read][property]") {
  const std::string text = text_of("jewel-setter.toml");
  const std::string before = answer(changed(text));
  struct Case {
    std::string set, old, with;
  };
  const std::vector<Case> cases{
      {"nozzle.bore=0.8 mm", "bore = \"1.0 mm\"", "bore = \"0.8 mm\""},
      {"rotary joint.leak.clearance=20 um", "clearance = \"35 um\"", "clearance = \"20 um\""},
      {"rotary joint.leak.clearance = 20..45 um", "clearance = \"35 um\"", "clearance = \"20..45 um\""},
      {"rotary joint.leak.eccentricity=0.2", "eccentricity = 0.5", "eccentricity = 0.2"},
      {"part.gap=9 um", "gap = \"4 +- 2 um\"", "gap = \"9 um\""},
      {"site.altitude=2000 m", "altitude = \"340 m\"", "altitude = \"2000 m\""},
      {"pump.curve[2].flow=4 L/min", "[\"30 kPa\", \"4.6 L/min\"]", "[\"30 kPa\", \"4 L/min\"]"},
      {"pump.current[2].vacuum=31 kPa", "[\"30 kPa\", \"305 mA\"]", "[\"31 kPa\", \"305 mA\"]"},
      {"supply hose.bore=3 mm", "length = \"0.8 m\"", "length = \"0.8 m\"\nbore = \"3 mm\""},
      {"supply hose.use=\"PU tube 4x2.5\"", "use = \"PU tube 6x4\"", "use = \"PU tube 4x2.5\""},
      {"nozzle.leak.hole=0.1 mm", "rim = \"1.8 mm\"", "rim = \"1.8 mm\"\nleak = { hole = \"0.1 mm\" }"},
      {"nozzle.leak={ hole = \"0.1 mm\" }", "rim = \"1.8 mm\"", "rim = \"1.8 mm\"\nleak = { hole = \"0.1 mm\" }"},
  };
  for (const Case& c : cases) {
    CAPTURE(c.set);
    const std::string set = answer(changed(text, {c.set}));
    CHECK(set == answer(changed(replaced(text, c.old, c.with))));
    if (c.set.find("..") == std::string::npos && c.set.find("current") == std::string::npos) CHECK(set != before);
  }
}

TEST_CASE("a part of what the catalogue gives can be set", "[read][property]") {
  const std::string text = text_of("jewel-setter.toml");
  const line::Line line = changed(text, {"filter.rated.drop=3 kPa"});
  const line::Line unchanged = changed(text);
  const auto& was = std::get<line::RatedDrop>(unchanged.elements[line::find(line, "filter").value()].restriction);
  const auto& now = std::get<line::RatedDrop>(line.elements[line::find(line, "filter").value()].restriction);
  CHECK(now.drop.value == 3000.0);
  CHECK(now.flow.value == was.flow.value);
}

TEST_CASE("the later of two settings of one value holds, and several are made together", "[read][property]") {
  const line::Line line =
      changed(text_of("jewel-setter.toml"), {"nozzle.bore=0.8 mm", "part.gap=9 um", "nozzle.bore=0.7 mm"});
  CHECK(std::get<line::Bore>(line.elements[line::find(line, "nozzle").value()].restriction).bore.value == 7e-4);
  CHECK(line.part.value().gap.value == 9e-6);
}

TEST_CASE("an element may be named like a table, and either is set where its key stands", "[read][property]") {
  const std::string text = replaced(text_of("jewel-setter.toml"), "name = \"nozzle\"", "name = \"part\"");
  const line::Line line = changed(text, {"part.mass=7 mg", "part.bore=0.8 mm"});
  CHECK(line.part->mass.value == Approx(7e-6));
  CHECK(std::get<line::Bore>(line.elements.back().restriction).bore.value == Approx(0.8e-3));
  CHECK_THROWS_WITH(
      changed(text, {"part.name=jewel"}),
      Contains("an element is named 'part' like the table [part], and each of the two has 'name'; give the "
               "element another name, so that it is plain whose value is meant."));
  CHECK_THROWS_WITH(changed(text, {"part.spacing=1 mm"}), Contains("and neither of the two has 'spacing'"));
}

TEST_CASE("a bad setting is refused with the reader's sentences and itself as the place", "[read][property]") {
  CHECK(change_refusal({"nozzle.bore=6 m"}) ==
        "--set 'nozzle.bore=6 m': element 'nozzle': bore = 6 m is outside 0.01 mm .. 100 mm. Did you mean 6 mm?");
  CHECK_THAT(change_refusal({"nozle.bore=6 mm"}),
             Contains("\"nozle\" is no element") && Contains("Did you mean 'nozzle'?"));
  CHECK_THAT(change_refusal({"joint.leak.rated=1 mL/min"}), Contains("Did you mean 'rotary joint'?"));
  CHECK_THAT(change_refusal({"nozzle.bor=6 mm"}), Contains("'bor' is not a key of a nozzle. Did you mean 'bore'?"));
  CHECK_THAT(change_refusal({"nozzle.bore=6 kPa"}), Contains("'kPa' measures pressure, but a length is needed here"));
  CHECK_THAT(change_refusal({"nozzle.bore=6"}), Contains("say its unit"));
  CHECK_THAT(change_refusal({"nozzle.bore"}), Contains("write a name and its value"));
  CHECK_THAT(change_refusal({"rotary joint.leak[2].clearance=20 um"}), Contains("'leak' is no list"));
  CHECK_THAT(change_refusal({"pump.curve[9].flow=4 L/min"}), Contains("'curve' has 4 entries"));
  CHECK_THAT(change_refusal({"pump.curve[2].flw=4 L/min"}), Contains("a 'vacuum' and a 'flow'"));
  CHECK_THAT(change_refusal({"pump.curve.flow=4 L/min"}), Contains("say which, as in curve[1]"));
  CHECK_THAT(change_refusal({"pump.curve=[[1"}), Contains("this isn't TOML"));
  CHECK_THAT(change_refusal({"nozzle.=2 mm"}), Contains("\"\" is no key"));
  CHECK_THAT(change_refusal({"nozzle.bore.x=2 mm"}), Contains("'bore' is no table"));
  CHECK_THAT(change_refusal({"rotary joint.leak.clearance=4 mm"}),
             Contains("--set 'rotary joint.leak.clearance=4 mm'"));
}
