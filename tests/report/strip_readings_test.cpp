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

TEST_CASE("a pump that is weak by itself is no case for capping nearer to it", "[report]") {
  const line::Line line = tests::bench_line();
  const std::string alone = told(line, {plugged_pump(line, 60e3)});
  CHECK_THAT(alone, Contains("The pump itself is weak, or the gauge in the plug is off"));
  CHECK_THAT(alone, Contains("Hold a second gauge against it"));
  CHECK_THAT(alone, !Contains("cap it nearer"));
  const std::string both = told(line, {plugged_pump(line, 60e3), tests::capped(line, "tee", 60e3)});
  CHECK_THAT(both, Contains("The pump itself is weak: "));
  CHECK_THAT(both, Contains("another gauge lacks as much"));
  CHECK_THAT(told(line, {tests::capped(line, "tee", 60e3)}), Contains("cap it nearer to the pump"));
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
