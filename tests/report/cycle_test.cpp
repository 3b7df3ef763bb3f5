#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "lines/lines.hpp"
#include "report/cycle_text.hpp"
#include "report/cycle_timeline.hpp"
#include "report/verdicts.hpp"
#include "study/cycle_lines.hpp"

using namespace airtally;
using Json = nlohmann::ordered_json;

namespace {

std::string flat(std::string text) {
  for (char& c : text) c = c == '\n' ? ' ' : c;
  return text;
}

std::size_t count(const std::string& text, const std::string& word) {
  std::size_t found = 0;
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++found;
  return found;
}

}  // namespace

TEST_CASE("heads that come down in turn have no moment in common", "[report][cycle][property]") {
  const line::Line line = test::scenario("two-spindle-sorter");
  const study::CycleAnswer answer = study::cycle(line, test::quick());
  CHECK_THAT(report::cycle_verdict(line, answer, {}),
             Catch::StartsWith("Each of the 2 heads may lift as soon as it meets its part, nozzle 1 at 50.0 ms."));
  line::Line together = line;
  together.cycle->heads.clear();
  const study::CycleAnswer both = study::cycle(together, test::quick());
  CHECK_THAT(report::cycle_verdict(together, both, {}),
             Catch::Contains("heads, may lift at 50.0 ms") || Catch::Contains("head, may lift at 50.0 ms"));
}

TEST_CASE("the safe moment has one rounding, never before it", "[report][cycle][property]") {
  const line::Line line = test::scenario("jewel-setter");
  const study::CycleAnswer answer = study::cycle(line, test::quick());
  const double safe = answer.heads[0].safe_lift.value();
  const std::string moment = report::safe_moment(answer, safe), number = moment.substr(0, moment.find(' '));
  CHECK(std::stod(number) >= 1e3 * safe);
  CHECK(std::stod(number) < 1e3 * safe + 0.1);
  const std::string text = report::cycle_text(line, answer, {});
  // In the sentence, the timeline, the curve's mark and the table.
  CHECK(count(text, number) == 4);
}

// Nanoseconds that an element would win are no news, neither in the table nor in the sentence.
TEST_CASE("an element is blamed for a wait only where it would win a hundredth of it", "[report][cycle][property]") {
  const line::Line line = test::single_volume(5e3);
  study::CycleAnswer answer = study::cycle(line, test::quick());
  const double safe = answer.heads.at(0).safe_lift.value();
  answer.limits = {{1, "without leak and restriction", 0.009 * safe}};
  CHECK_THAT(report::cycle_verdict(line, answer, {}),
             !Catch::Contains("holds it up") && Catch::Contains("after it meets the part"));
  CHECK_THAT(report::cycle_text(line, answer, {}), !Catch::Contains("what would let it lift sooner"));
  answer.limits.front().gain = 0.011 * safe;
  CHECK_THAT(report::cycle_verdict(line, answer, {}), Catch::Contains("what holds it up most is the store"));
  CHECK_THAT(report::cycle_text(line, answer, {}), Catch::Contains("what would let it lift sooner"));
}

TEST_CASE("a cycle that did not come to rest is said not to be what the machine comes to",
          "[report][cycle][property]") {
  const line::Line line = test::two_heads(0.15);
  study::CycleAnswer answer = study::cycle(line, test::quick());
  CHECK_THAT(report::cycle_verdict(line, answer, {}), !Catch::Contains("come to rest"));
  answer.settled = false;
  CHECK_THAT(report::cycle_verdict(line, answer, {}), Catch::StartsWith("The cycle did not come to rest in the "));
  CHECK(Json::parse(report::cycle_json(line, answer))["works"] == false);
}

TEST_CASE("a pick that is let go before it is put down had its vacuum", "[report][cycle][property]") {
  line::Line line = test::single_volume(5e3);
  line.cycle->release = 0.25;  // and the vent has 150 ms until the place
  const study::CycleAnswer answer = study::cycle(line, test::quick());
  const study::HeadCycle& head = answer.heads.front();
  CHECK_FALSE(head.works());
  CHECK_FALSE(head.safe_lift);
  REQUIRE(head.held_from);
  CHECK(*head.held_from >= head.touch);
  CHECK(*head.held_from < 0.25);
  CHECK(head.lost_at > 0.25);
  CHECK(head.lost_at < *head.let_go);
  const std::string verdict = report::cycle_verdict(line, answer, {});
  CHECK_THAT(verdict, Catch::StartsWith("The head has the 10.0 kPa that it needs from ") &&
                          Catch::Contains(" on, but is told to let go (release) at 250.0 ms, 150.0 ms before it puts "
                                          "the part down at 400.0 ms: the vacuum is gone at ") &&
                          Catch::Contains(" Give release later, or place sooner.") && !Catch::Contains("never"));
  CHECK_THAT(report::cycle_text(line, answer, {}), Catch::Contains("too short") && !Catch::Contains("never"));
  CHECK(Json::parse(report::cycle_json(line, answer))["heads"][0]["lost_at_s"].get<double>() == head.lost_at);
  // One that never has it, or loses it while it is to hold, is told as before.
  line.part->mass = 1.0;
  const study::CycleAnswer heavy = study::cycle(line, test::quick());
  CHECK_FALSE(heavy.heads.front().held_from);
  CHECK_THAT(report::cycle_verdict(line, heavy, {}), Catch::StartsWith("The head never gets "));
}

TEST_CASE("an ejector's compressed air is a caution of its own", "[report][cycle]") {
  line::Line line = test::single_volume(5e3);
  CHECK_THAT(report::cycle_cautions(line), !Catch::Contains("compressed air"));
  line.elements.front().kind = line::Kind::ejector;
  CHECK_THAT(report::cycle_cautions(line),
             Catch::Contains("Close the ejector's compressed air and let its pressure out before a hose comes off."));
}

TEST_CASE("cycle says from when travel is safe", "[report][cycle][property]") {
  line::Line line = test::single_volume(5e3);
  line.move.emplace();
  line.move->travel = 3.0;
  const study::CycleAnswer waits = study::cycle(line, test::quick());
  CHECK_THAT(report::cycle_verdict(line, waits, {}), Catch::StartsWith("The head may lift and travel at "));
  CHECK_THAT(report::cycle_text(line, waits, {}), Catch::Contains("has the vacuum to lift and travel"));
  const Json head = Json::parse(report::cycle_json(line, waits))["heads"][0];
  CHECK(head["safe_travel_s"] == head["safe_lift_s"]);
  CHECK(head["works"] == true);

  line.cycle->travel = waits.heads[0].safe_travel.value() - 5e-3;
  const study::CycleAnswer early = study::cycle(line, test::quick());
  const std::string said = flat(report::cycle_text(line, early, {}));
  CHECK_THAT(said, Catch::Contains("it may lose the part; wait until " +
                                   report::safe_moment(early, early.heads[0].safe_travel.value()) + "."));
  CHECK_THAT(said, Catch::Contains("has the vacuum to travel"));

  line.move->travel = 300.0;
  line.cycle->travel.reset();
  const study::CycleAnswer never = study::cycle(line, test::quick());
  CHECK_THAT(report::cycle_verdict(line, never, {}),
             Catch::Contains("that it needs to lift and travel, or loses it before it puts the part down."));
}

TEST_CASE("many heads that deserve the same note get it once", "[report][cycle][property]") {
  line::Line line = test::two_heads(0.0);
  for (line::Element& element : line.elements)
    if (element.valve && element.valve->vent) element.valve->vent->blow_off = units::Quantity(30e3);
  line.cycle->heads.clear();
  std::size_t blown = 0;
  for (const std::string& note : study::cycle(line, test::quick()).notes)
    if (note.find("it may be blown away") != std::string::npos) {
      ++blown;
      CHECK_THAT(note, Catch::StartsWith("under the part of each of nozzles 'nozzle 1' and 'nozzle 2' the pressure "));
    }
  CHECK(blown == 1);
}

TEST_CASE("heads whose vacuum runs alike are one curve", "[report][cycle][property]") {
  line::Line line = test::two_heads(0.0);
  line.cycle->heads.clear();
  const std::string alike = report::cycle_text(line, study::cycle(line, test::quick()), {});
  CHECK_THAT(alike, Catch::Contains("nozzle 1 and 1 alike, mouth") && !Catch::Contains("nozzle 2, mouth"));
  const line::Line late = test::two_heads(20e-3);
  CHECK_THAT(report::cycle_text(late, study::cycle(late, test::quick()), {}),
             Catch::Contains("nozzle 2, mouth") && !Catch::Contains("alike, mouth"));
}

TEST_CASE("what meets the part lifts it after that, if at all", "[report][cycle][property]") {
  line::Line line = test::single_volume(5e3);
  line.cycle->valve_on = 0.0;
  line.cycle->touch = 0.2;
  line.cycle->period = units::Quantity(1.1);
  const study::CycleAnswer answer = study::cycle(line, test::quick());
  CHECK(answer.end == 1.1);
  for (const study::CycleEvent& event : answer.events)
    if (event.what == "meets the part") CHECK(event.time == 0.2);
  const std::string rows = report::cycle_timeline(line, answer, {});
  CHECK(rows.find("meets the part") < rows.find("has the vacuum to lift"));
  // A head that comes 250 ms later lifts as the first one leaves.
  const std::string pair = report::cycle_timeline(
      test::scenario("two-spindle-sorter"), study::cycle(test::scenario("two-spindle-sorter"), test::quick()), {});
  CHECK(pair.find("leaves the part") < pair.find("nozzle 2    lifts"));
  line.part->mass = units::Quantity(10.0);
  const study::CycleAnswer never = study::cycle(line, test::quick());
  const std::string left = report::cycle_timeline(line, never, {});
  CHECK_THAT(left, Catch::Contains("lacks the vacuum to lift and travel"));
  for (const char* what : {"lifts", "puts the part down", "lets the part go"}) CHECK_THAT(left, !Catch::Contains(what));
}
