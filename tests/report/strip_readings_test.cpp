#include "report/strip_readings.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "hunt/bench.hpp"

using namespace airtally;
using Catch::Matchers::Contains;

namespace {

std::string told(const line::Line& line, const std::vector<hunt::Reading>& list) {
  hunt::Readings readings;
  readings.list = list;
  const study::Strip strip = study::strip(line, solve::usual_tips(line));
  std::string text = report::strip_readings_text(line, strip, hunt::beside(line, strip, readings), {});
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

hunt::Reading plugged_pump(const line::Line& line, double vacuum) {
  hunt::Reading reading = tests::capped(line, "pump", vacuum, "pump");
  reading.instrument = hunt::Instrument::plugged;
  return reading;
}

}  // namespace

TEST_CASE("readings that can't be are never called fine", "[report]") {
  const line::Line line = tests::bench_line();
  const std::string text = told(line, {tests::capped(line, "filter", 150e3)});
  CHECK_THAT(text, Contains("no state of the line could give what was read"));
  CHECK_THAT(text, Contains("Set aside: 150.0 kPa is more vacuum than the pump can pull"));
  CHECK_THAT(text, !Contains("as the file says they should"));
  // Well above the file, but the pump could pull it.
  CHECK_THAT(told(line, {tests::capped(line, "joint", 71e3)}), Contains("more vacuum than the file says: the pump"));
}

TEST_CASE("readings of which none is a step are told what a step is, and their file goes into the next command",
          "[report]") {
  const auto said = [](const line::Line& line) {
    const study::Strip strip = study::strip(line, solve::usual_tips(line));
    hunt::BesideAll all;
    all.others = 3;
    std::string text = report::strip_readings_text(line, strip, all, {}, "my readings.toml");
    std::replace(text.begin(), text.end(), '\n', ' ');
    return text;
  };
  line::Line line = tests::bench_line();
  CHECK_THAT(said(line),
             Contains("None of the readings is a step of the removal test: a blind cap, or the tip blocked.") &&
                 Contains("airtally hunt 'my readings.toml'"));
  line::Element second = line.elements.back();
  second.name = "second nozzle";
  second.after = line.elements[line.elements.size() - 2].name;
  line.elements.push_back(second);
  CHECK_THAT(said(line), Contains("a blind cap, or one tip blocked, the others as they are, or a branch off."));
}

TEST_CASE("a pump that is weak by itself is no case for capping nearer to it", "[report]") {
  const line::Line line = tests::bench_line();
  const std::string alone = told(line, {plugged_pump(line, 60e3)});
  CHECK_THAT(alone, Contains("The pump itself is weak, or the gauge in the plug is off"));
  CHECK_THAT(alone, Contains("Hold a second gauge against it"));
  CHECK_THAT(alone, !Contains("cap it nearer"));
  const std::string both = told(line, {plugged_pump(line, 60e3), tests::capped(line, "tee", 60e3)});
  CHECK_THAT(both, Contains("The pump itself is weak: "));
  CHECK_THAT(both, Contains("another gauge lacks as much"));
  CHECK_THAT(told(line, {tests::capped(line, "tee", 60e3)}), Contains("so cap there with a gauge in the plug"));
}

TEST_CASE("a pump whose current is off alone wins over a gauge behind it", "[report]") {
  const line::Line line = tests::bench_line("current = [[\"0 kPa\", \"0.2 A\"], [\"71 kPa\", \"0.4 A\"]]\n");
  hunt::Reading alone = tests::capped(line, "pump", 0.35, "pump");
  alone.instrument = hunt::Instrument::current;
  const std::string text = told(line, {alone, tests::capped(line, "filter", 50e3)});
  CHECK_THAT(text,
             Contains("The pump itself is not as the file has it: with nothing else on it, it read 350.0 mA where "
                      "the file says 400.0 mA, and a gauge lacks vacuum as well."));
  CHECK_THAT(text, !Contains("cap it nearer"));
}

TEST_CASE("nearer to the pump than its place no gauge can be read", "[report]") {
  const line::Line line = tests::bench_line();
  CHECK_THAT(told(line, {tests::capped(line, "filter", 50e3)}),
             Contains("as far as behind the tee; nearer still, read with a gauge in the plug."));
  CHECK_THAT(told(line, {tests::capped(line, "tee", 50e3)}),
             Contains("nearer to the pump that is off the line, so cap there with a gauge in the plug."));
}

TEST_CASE("one step that is as filed says little, and what is far off beside it is named", "[report]") {
  const line::Line line = tests::bench_line();
  const study::Strip strip = study::strip(line, solve::usual_tips(line));
  const double tee = strip.steps[2].readings.front().vacuum;
  hunt::Reading drilled = tests::capped(line, "filter", 60e3);
  drilled.setting.hole = 1e-3;
  const std::string text = told(line, {tests::capped(line, "tee", tee), drilled});
  CHECK_THAT(text, Contains("Only one of the test's 6 steps was read, so that no element's step is known"));
  CHECK_THAT(text, Contains("But one of what is left out, as no step, is far off: capped behind the filter with a 1 mm "
                            "hole, the gauge at the tee read 60.0 kPa where the file says "));
  CHECK_THAT(text, !Contains("Step by step"));
  CHECK_THAT(told(line, {tests::capped(line, "tee", tee), tests::capped(line, "filter", tee)}),
             Contains("Step by step the readings fall as the file says they should, as far as the instruments can "
                      "tell. Only 2 of the test's 6 steps were read."));
}

TEST_CASE("readings that contradict each other blame no element, and are named", "[report]") {
  const line::Line line = tests::bench_line();
  const std::string text = told(line, {tests::capped(line, "tee", 67e3), tests::capped(line, "filter", 30e3),
                                       tests::capped(line, "joint", 67e3)});
  CHECK_THAT(text, Contains("These readings contradict each other: capped behind the filter, the gauge at the tee read "
                            "30.0 kPa, and capped behind the joint, with more of the line on the pump, 67.0 kPa."));
  CHECK_THAT(text, Contains("take both again"));
  CHECK_THAT(text, !Contains("surprises most"));
  const std::string twice = told(line, {tests::capped(line, "tee", 67.1e3), tests::capped(line, "tee", 55e3)});
  CHECK_THAT(twice, Contains("Two readings of one setting disagree: capped behind the tee, the gauge at the tee read "
                             "67.1 kPa and 55.0 kPa."));
  // A pair that is hardly apart takes nothing from a step that is.
  const std::string small = told(
      line, {tests::capped(line, "tee", 70e3), tests::capped(line, "tee", 69e3), tests::capped(line, "filter", 30e3)});
  CHECK_THAT(small, Contains("The filter surprises most"));
  CHECK_THAT(small, Contains("Two readings of one setting disagree"));
}

TEST_CASE("a number misread at one of many needles is taken for that, not for a fault", "[report][property]") {
  const line::Line line = tests::two_nozzles();
  const study::Strip strip = study::strip(line, solve::usual_tips(line));
  std::vector<hunt::Reading> list;
  const std::size_t gauge = *line::find(line, "tee");
  for (const study::StripStep& step : strip.steps)
    for (const study::StripReading& r : step.readings)
      if (r.at == gauge) list.push_back(tests::capped(line, line.elements[step.cap].name, r.vacuum));
  const auto at = [&](const char* name) -> hunt::Reading& {
    return *std::find_if(list.begin(), list.end(),
                         [&](const hunt::Reading& r) { return line.elements[*r.setting.cap].name == name; });
  };
  const std::vector<hunt::Reading> sound = list;
  const double fall = 0.5 * at("nozzle one").value;
  at("nozzle one").value -= fall;
  const std::string text = told(line, list);
  CHECK_THAT(
      text,
      Contains("One reading is suspect, not the nozzle one: with the nozzle one blocked, the gauge at the tee read "));
  CHECK_THAT(text, Contains("Take that reading again."));
  CHECK_THAT(text, !Contains("What is wrong is in"));
  // It leaks indeed: then every step with it on the line shows so.
  list = sound;
  for (const char* name : {"nozzle one", "hose two", "nozzle two"}) at(name).value -= fall;
  CHECK_THAT(told(line, list), !Contains("suspect"));
}

TEST_CASE("where a step sends a hand to the line, the cautions stand below, and the file by its name", "[report]") {
  const line::Line line = tests::bench_line();
  hunt::Reading reading = tests::capped(line, "filter", 60e3);
  reading.where = {"my readings.toml", 3, 1};
  const std::string text = told(line, {reading});
  CHECK_THAT(text, Contains("airtally hunt 'my readings.toml' Before you reach in: lock out the moving axes"));
}

TEST_CASE("a step read with other branches on names them all, or the one that is left", "[report][property]") {
  const line::Line line = tests::two_nozzles();
  line::Line leaky = line;
  leaky.elements[*line::find(line, "hose two")].leaks.push_back(line::Hole{0.3e-3});
  const study::Strip strip = study::strip(leaky, solve::usual_tips(line));
  const auto read = [&](const std::vector<std::string>& caps) {
    std::vector<hunt::Reading> list;
    for (const study::StripStep& step : strip.steps)
      for (const std::string& cap : caps)
        if (line.elements[step.cap].name == cap) list.push_back(tests::capped(line, cap, step.readings.front().vacuum));
    return told(line, list);
  };
  const std::string tied = read({"tee", "hose one", "hose two"});
  CHECK_THAT(tied, Contains("if one thing is wrong, it is in the hose one or the hose two, or in the pump:"));
  CHECK_THAT(tied, !Contains("surprises most"));
  CHECK_THAT(read({"tee", "hose one", "nozzle one", "hose two"}), Contains("the hose one or the hose two"));
  CHECK_THAT(read({"tee", "hose one"}), Contains("the hose one, the hose two or the nozzle two, or"));
}
