// airtally cycle as a person and a program get it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "cli/run.hpp"
#include "report/width.hpp"

using namespace airtally;
using Catch::Contains;
using test::Ran;
using test::run;
using Json = nlohmann::ordered_json;

namespace {

const std::vector<std::string> picks{"lines/jewel-setter.toml", "lines/two-spindle-sorter.toml",
                                     "lines/ejector-head.toml"};

}  // namespace

TEST_CASE("a pick is told within 80 columns, in any unit, in ASCII where asked for", "[cli][property]") {
  for (const std::string& file : picks)
    for (const char* unit : {"kPa", "inHg", "Pa"}) {
      CAPTURE(file, unit);
      const Ran ran = run({"cycle", file, "--units", unit, "--ascii"});
      CHECK(ran.code == 0);
      CHECK(ran.err.empty());
      CHECK_THAT(ran.out, Contains(" may lift ") && Contains("meets the part") && Contains("lets the part go"));
      CHECK_THAT(ran.out, Contains("stop and lock out the moving axes"));
      CHECK(std::all_of(ran.out.begin(), ran.out.end(), [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); }));
      for (const std::string& row : test::lines_of(ran.out)) CHECK(report::width(row) <= 80);
    }
}

TEST_CASE("blow-off air is cautioned about where there is some", "[cli][property]") {
  CHECK_THAT(run({"cycle", picks[1]}).out, Contains("Shut off blow-off air"));
  CHECK_THAT(run({"cycle", picks[0]}).out, !Contains("Shut off blow-off air"));
}

TEST_CASE("a pick that can't work ends with 1 and says what is short", "[cli][property]") {
  const Ran never = run({"cycle", picks[0], "--set", "part.mass=4 g"});
  CHECK(never.code == 1);
  CHECK(never.err.empty());
  CHECK_THAT(never.out, Contains("The head never gets the"));
  const Ran soon = run({"cycle", picks[0], "--set", "cycle.lift=62 ms"});
  CHECK(soon.code == 1);
  CHECK_THAT(soon.out, Contains("The nozzle is told to lift at") && Contains("62.0 ms, when it lacks"));
  const Json json = Json::parse(run({"cycle", picks[0], "--set", "cycle.lift=62 ms", "--json"}).out);
  CHECK(json["works"] == false);
  CHECK(json["heads"][0]["margin_at_lift_pa"].get<double>() < 0.0);
  // Held when it is lifted, but not through its moves.
  const Ran moved = run({"cycle", picks[0], "--set", "move.travel=400 m/s2"});
  CHECK(moved.code == 1);
  CHECK_THAT(moved.out, Contains("on its travel") && Contains("it may lose the part"));
}

TEST_CASE("the line without a cycle, and a schedule out of order, are bad input", "[cli][property]") {
  const Ran none = run({"cycle", "lines/seed-tray.toml"});
  CHECK(none.code == 2);
  CHECK(none.out.empty());
  CHECK_THAT(none.err, Contains("the file has no [cycle]; add one with touch and place"));
  const Ran order = run({"cycle", picks[0], "--set", "cycle.place=20 ms"});
  CHECK(order.code == 2);
  CHECK_THAT(order.err, Contains("place = 20 ms is before touch = 60 ms; a pick goes touch, lift, travel, place"));
  const Ran thermal = run({"cycle", picks[0], "--thermal", "warm"});
  CHECK(thermal.code == 2);
  CHECK_THAT(thermal.err, Contains("--thermal: 'warm' is not known; say isothermal, adiabatic or wall."));
}

TEST_CASE("how the air warms shows in the time to let go", "[cli][property]") {
  const auto let_go = [](const char* how) {
    const Json json =
        Json::parse(run({"cycle", picks[0], "--json", "--thermal", how, "--set", "cycle.vent-time=140 ms"}).out);
    return json["heads"][0]["let_go_s"].get<double>();
  };
  const double adiabatic = let_go("adiabatic"), wall = let_go("wall"), isothermal = let_go("isothermal");
  CAPTURE(adiabatic, wall, isothermal);
  CHECK(adiabatic > 0.6);
  CHECK(isothermal > 0.6);
  // Warm air fills the line with less of it. What cools at the wall afterwards must be filled in again under next to no
  // drop, which takes longest of all.
  CHECK(adiabatic < isothermal);
  CHECK(wall > adiabatic);
}
