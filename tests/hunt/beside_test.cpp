#include "hunt/readings/beside.hpp"

#include <catch2/catch.hpp>

#include "hunt/bench.hpp"
#include "hunt/readings/cut.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;

namespace {

/// Readings of the tee's gauge as the line itself predicts them, `more` [Pa] off from step `from` on and `always` off
/// at every step.
hunt::Readings readings(const study::Strip& strip, std::size_t tee, std::size_t from, double more, double always) {
  hunt::Readings all;
  for (std::size_t s = 0; s < strip.steps.size(); ++s)
    for (const study::StripReading& r : strip.steps[s].readings) {
      if (r.at != tee || r.current) continue;
      hunt::Reading reading;
      reading.setting.cap = strip.steps[s].cap;
      reading.at = tee;
      reading.value = r.vacuum + always + (s >= from ? more : 0.0);
      all.list.push_back(reading);
    }
  return all;
}

}  // namespace

TEST_CASE("readings beside the removal test name the step that brings more than the file says", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const study::Strip strip = study::strip(line, solve::usual_tips(line));
  const std::size_t tee = *line::find(line, "tee");
  for (std::size_t step = 3; step < strip.steps.size(); ++step) {
    // The gauge is 400 Pa off throughout, which is no surprise of any step.
    const hunt::BesideAll all = hunt::beside(line, strip, readings(strip, tee, step, -2e3, 400.0));
    CAPTURE(step);
    REQUIRE(all.worst);
    CHECK(all.list[*all.worst].step == step);
    CHECK_THAT(all.list[*all.worst].surprise, WithinAbs(-2e3, 1e-6));
    CHECK_THAT(all.list.front().read - all.list.front().predicted, WithinAbs(400.0, 1e-6));
  }
  CHECK_FALSE(hunt::beside(line, strip, readings(strip, tee, 0, 0.0, 400.0)).worst);
  CHECK_FALSE(hunt::beside(line, strip, readings(strip, tee, 0, 0.0, 400.0)).spared);
  // What takes less than the file says is no culprit, but no reading "as the file says" either.
  const hunt::BesideAll better = hunt::beside(line, strip, readings(strip, tee, 4, 2e3, 400.0));
  CHECK_FALSE(better.worst);
  REQUIRE(better.spared);
  CHECK(better.list[*better.spared].step == 4);
  // 100 Pa is one step of the display and less than three deviations of two readings.
  CHECK_FALSE(hunt::beside(line, strip, readings(strip, tee, 3, -100.0, 0.0)).worst);
}

TEST_CASE("a drilled plate is no step of the removal test", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const study::Strip strip = study::strip(line, solve::usual_tips(line));
  hunt::Readings one;
  one.list = {tests::capped(line, "filter", 60e3)};
  one.list[0].setting.hole = 0.8e-3;
  const hunt::BesideAll all = hunt::beside(line, strip, one);
  CHECK(all.list.empty());
  CHECK(all.others == 1);
  // But it is held against the file all the same.
  hunt::Setting drilled = one.list[0].setting;
  const hunt::Cut left = hunt::cut(line, line::topology(line), drilled);
  const double filed = solve::steady(left.line, left.tips).elements[left.index[*line::find(line, "tee")]].vacuum;
  REQUIRE(all.far);
  CHECK_THAT(all.far->predicted, WithinAbs(filed, 1e-6));
  one.list[0].value = filed + 300.0;
  CHECK_FALSE(hunt::beside(line, strip, one).far);
}

TEST_CASE("a source whose current is off with nothing else on it goes before a gauge behind it", "[hunt][property]") {
  const line::Line line = tests::bench_line("current = [[\"0 kPa\", \"0.2 A\"], [\"71 kPa\", \"0.4 A\"]]\n");
  const study::Strip strip = study::strip(line, solve::usual_tips(line));
  hunt::Readings readings;
  readings.list = {tests::capped(line, "pump", 0.35, "pump"), tests::capped(line, "filter", 50e3)};
  readings.list[0].instrument = hunt::Instrument::current;
  const hunt::BesideAll all = hunt::beside(line, strip, readings);
  REQUIRE(all.off);
  CHECK(all.list[*all.off].instrument == hunt::Instrument::current);
  CHECK(all.off_confirmed);
  // As the file has it, it clears the source.
  readings.list[0].value = *strip.steps[0].readings.back().current;
  const hunt::BesideAll sound = hunt::beside(line, strip, readings);
  REQUIRE(sound.off);
  CHECK(sound.list[*sound.off].instrument == hunt::Instrument::vacuum);
}

TEST_CASE("a reading with none to compare it with is held against the file itself", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const study::Strip strip = study::strip(line, solve::usual_tips(line));
  const std::size_t tee = *line::find(line, "tee");
  hunt::Readings one = readings(strip, tee, 0, -10e3, 0.0);
  one.list.resize(1);
  const hunt::BesideAll all = hunt::beside(line, strip, one);
  CHECK_FALSE(all.worst);
  REQUIRE(all.off);
  CHECK(*all.off == 0);
  // Within a twentieth a pump is as pumps are.
  one.list[0].value += 8e3;
  CHECK_FALSE(hunt::beside(line, strip, one).off);
  // More vacuum than the file says is not as the file says either, though the pump could pull it: behind the joint.
  hunt::Readings more;
  more.list = {tests::capped(line, "joint", 0.0)};
  const study::StripStep& joint = strip.steps[4];
  REQUIRE(joint.cap == *line::find(line, "joint"));
  more.list[0].value = joint.readings.front().vacuum + 5e3;
  CHECK_FALSE(hunt::beside(line, strip, more).off);
  CHECK(hunt::beside(line, strip, more).above == 0U);
}

TEST_CASE("what no state of the line could give is set aside before it is put beside the file", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const study::Strip strip = study::strip(line, solve::usual_tips(line));
  hunt::Readings readings;
  readings.list = {tests::capped(line, "filter", 150e3), tests::capped(line, "tee", -67e3),
                   tests::capped(line, "joint", 60e3)};
  const hunt::BesideAll all = hunt::beside(line, strip, readings);
  REQUIRE(all.list.size() == 1);
  CHECK(all.list[0].read == 60e3);
  // In the words of the hunt.
  REQUIRE(all.set_aside.size() == 2);
  std::vector<hunt::Reading> same = readings.list;
  const auto hunted = hunt::set_aside_impossible(line, readings.bench, same);
  CHECK(all.set_aside[0].sentence == hunted[0].sentence);
  CHECK(all.set_aside[1].sentence == hunted[1].sentence);
}

TEST_CASE("of gauges that lack as much, the one capped at the source names it", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const study::Strip strip = study::strip(line, solve::usual_tips(line));
  hunt::Readings readings;
  readings.list = {tests::capped(line, "tee", 0.0), tests::capped(line, "pump", 0.0, "pump")};
  readings.list[1].instrument = hunt::Instrument::plugged;
  readings.list[0].value = strip.steps[2].readings.front().vacuum - 10.7e3;
  readings.list[1].value = strip.steps[0].end - 10.6e3;
  const hunt::BesideAll all = hunt::beside(line, strip, readings);
  REQUIRE(all.off);
  CHECK(all.list[*all.off].step == 0);
  CHECK(all.off_confirmed);
  // What the line up to the tee loses twice over is not the pump's.
  readings.list[0].value -= 10.7e3;
  CHECK(hunt::beside(line, strip, readings).off == 1U);
  CHECK_FALSE(hunt::beside(line, strip, readings).off_confirmed);
}

TEST_CASE("vacuum can't rise when more of the line is on the pump", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const study::Strip strip = study::strip(line, solve::usual_tips(line));
  const auto found = [&](double nearer, double beyond) {
    hunt::Readings readings;
    readings.list = {tests::capped(line, "joint", beyond), tests::capped(line, "tee", nearer)};
    return hunt::beside(line, strip, readings).contradictions;
  };
  const auto rises = found(40e3, 60e3);
  REQUIRE(rises.size() == 1);
  CHECK(rises[0].nearer == 0);
  CHECK(rises[0].beyond == 1);
  CHECK_THAT(rises[0].by, WithinAbs(20e3, 1e-6));
  CHECK_FALSE(rises[0].same_step);
  CHECK(found(60e3, 40e3).empty());
  // The gauge is good to 0.5 kPa.
  CHECK(found(60e3, 60.4e3).empty());
  CHECK(found(60e3, 60.6e3).size() == 1);
}

TEST_CASE("two readings of one setting agree or contradict each other", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const study::Strip strip = study::strip(line, solve::usual_tips(line));
  hunt::Readings readings;
  readings.list = {tests::capped(line, "tee", 67e3), tests::capped(line, "tee", 66.8e3)};
  CHECK(hunt::beside(line, strip, readings).contradictions.empty());
  readings.list[1].value = 55e3;
  const auto all = hunt::beside(line, strip, readings).contradictions;
  REQUIRE(all.size() == 1);
  CHECK(all[0].same_step);
  CHECK_THAT(all[0].by, WithinAbs(12e3, 1e-6));
}

// With the other nozzle open the gauge falls by what comes in there, and no step is to blame for it.
TEST_CASE("a reading with another state of a tip that is on is no step of the strip", "[hunt][property]") {
  const line::Line line = tests::two_nozzles();
  const std::size_t tee = *line::find(line, "tee");
  const auto beside = [&](const char* cap, std::vector<solve::TipState> tips) {
    const study::Strip strip = study::strip(line, solve::all_tips(line, solve::TipState::blocked));
    hunt::Readings readings;
    readings.list.push_back(tests::capped(line, cap, 40e3));
    readings.list.front().at = tee;
    readings.list.front().setting.tips = std::move(tips);
    return hunt::beside(line, strip, readings);
  };
  using solve::TipState;
  CHECK(beside("hose one", {TipState::blocked, TipState::blocked}).list.size() == 1);
  const hunt::BesideAll open = beside("hose one", {TipState::blocked, TipState::open});
  CHECK(open.list.empty());
  CHECK(open.others == 1);
  // What is off the line may have been in any state.
  CHECK(beside("hose one", {TipState::open, TipState::blocked}).list.size() == 1);
  CHECK(beside("tee", {TipState::open, TipState::open}).list.size() == 1);
}

namespace {

/// The tee's gauge at the caps named, as it would read with one more leak at one element.
hunt::BesideAll with_leak(const std::string& at, const std::vector<std::string>& caps) {
  const line::Line line = tests::two_nozzles();
  line::Line leaky = line;
  leaky.elements[*line::find(line, at)].leaks.push_back(line::Hole{0.3e-3});
  const std::vector<solve::TipState> tips = solve::usual_tips(line);
  hunt::Readings readings;
  for (const study::StripStep& step : study::strip(leaky, tips).steps)
    for (const std::string& cap : caps)
      if (line.elements[step.cap].name == cap)
        readings.list.push_back(tests::capped(line, cap, step.readings.front().vacuum));
  return hunt::beside(line, study::strip(line, tips), readings);
}

std::vector<std::string> doubted(const hunt::BesideAll& all) {
  const line::Line line = tests::two_nozzles();
  std::vector<std::string> names;
  for (const std::size_t e : all.in_doubt) names.push_back(line.elements[e].name);
  return names;
}

}  // namespace

// Capped behind the one hose, the other branch is on, and its leak shows there.
TEST_CASE("what another branch leaks is not laid to the first step past the fork", "[hunt][property]") {
  const std::vector<std::string> all{"tee", "hose one", "nozzle one", "hose two", "nozzle two"};
  for (const char* const at : {"nozzle one", "nozzle two"}) {
    CAPTURE(at);
    CHECK(doubted(with_leak(at, all)) == std::vector<std::string>{at});
  }
  // The first step past the fork shows it too, with the whole other branch on.
  const hunt::BesideAll nozzle = with_leak("nozzle two", all);
  CHECK(nozzle.list[*nozzle.worst].step == 5);
  // Where no reading parts them, none is named: past the fork both hoses are on in every step.
  using Names = std::vector<std::string>;
  CHECK(doubted(with_leak("hose two", all)) == Names{"hose one", "hose two"});
  CHECK(doubted(with_leak("hose one", all)) == Names{"hose one", "hose two"});
  CHECK(doubted(with_leak("hose two", {"tee", "hose one"})) == Names{"hose one", "hose two", "nozzle two"});
}
