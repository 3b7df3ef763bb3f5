#include "hunt/readings/beside.hpp"

#include <catch2/catch.hpp>

#include "hunt/bench.hpp"

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
  // Within a twentieth a pump is as pumps are, and more vacuum than the file says is no trouble.
  one.list[0].value += 8e3;
  CHECK_FALSE(hunt::beside(line, strip, one).off);
  one.list[0].value += 12e3;
  CHECK_FALSE(hunt::beside(line, strip, one).off);
}
