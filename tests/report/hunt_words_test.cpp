#include <catch2/catch.hpp>

#include "hunt/bench.hpp"
#include "report/hunt_text.hpp"

using namespace airtally;

TEST_CASE("a test says what to do to the line, what to read and what to expect", "[report]") {
  const line::Line line = tests::bench_line("current = [[\"0 kPa\", \"210 mA\"], [\"71 kPa\", \"390 mA\"]]");
  const auto at = [&](const char* name) { return *line::find(line, name); };
  const auto sentence = [&](const hunt::NextTest& test) { return report::test_sentence(line, test, {}); };
  hunt::NextTest test;
  test.setting = {at("joint"), 0.0, {solve::TipState::part}};
  test.dials = {{hunt::Instrument::vacuum, at("tee"), 61.04e3}};
  test.effort = 2.0;
  CHECK(sentence(test) ==
        "Cap the line behind the joint (2 joints) and read the gauge at the tee (expect about 61.0 kPa).");
  test.setting.hole = 0.8e-3;
  test.effort = 1.0;
  CHECK(sentence(test) ==
        "Cap the line behind the joint with the plate that has a 0.8 mm hole (1 joint) and read the gauge at the tee "
        "(expect about 61.0 kPa).");
  // Nothing to undo: the last reading left it so.
  test.standing = true;
  test.setting.hole = 0.0;
  test.effort = 0.0;
  test.dials = {{hunt::Instrument::current, at("pump"), 0.3512}};
  CHECK(sentence(test) ==
        "Leave the line as it is, capped behind the joint, and read the ammeter of the pump (expect about 351.2 mA).");
  test.setting.cap = at("nozzle");
  CHECK(sentence(test) ==
        "Leave the line as it is, the nozzle blocked, and read the ammeter of the pump (expect about 351.2 mA).");
  test.standing = false;
  CHECK(sentence(test) == "Block the nozzle and read the ammeter of the pump (expect about 351.2 mA).");
  test.setting = {{}, 0.0, {solve::TipState::open}};
  CHECK(sentence(test) ==
        "Leave the line whole with the tip open and read the ammeter of the pump (expect about 351.2 mA).");
  test.dials.push_back({hunt::Instrument::vacuum, at("tee"), 61.04e3});
  CHECK(sentence(test) ==
        "Leave the line whole with the tip open and read the ammeter of the pump (expect about 351.2 mA) and the gauge "
        "at the tee (about 61.0 kPa).");
}
