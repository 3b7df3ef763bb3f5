#include "report/decay_text.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace airtally;
using Catch::Contains;

namespace {

/// From 70 kPa down evenly, as a hole lets air in while it is choked, read to `step` [Pa].
report::DecayQuestion even(double step) {
  line::Log log;
  log.file = "decay.csv";
  log.step = step;
  for (int k = 0; k <= 8; ++k) log.time.push_back(k), log.vacuum.push_back(70e3 - 200.0 * k);
  const gas::Site site;
  return {hunt::fit_decay(log, site, 0.5), site, units::Quantity(50e-6), {}, ""};
}

std::string on_one_line(const report::DecayQuestion& question) {
  std::string text = report::decay_text(question, {});
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

}  // namespace

TEST_CASE("a decay says when the log does not tell a hole from a seal", "[report][property]") {
  const std::string best = "The course of a hole, choked at first, fits best";
  CHECK_THAT(on_one_line(even(100.0)), Contains(best) && Contains("But a laminar leak's fits as well") &&
                                           Contains("the log does not tell a hole from a seal"));
  CHECK_THAT(on_one_line(even(1.0)), Contains(best) && !Contains("But "));
  CHECK_THAT(report::decay_json(even(100.0)), Contains("\"inflow_told\": false"));
  CHECK_THAT(report::decay_json(even(1.0)), Contains("\"inflow_told\": true"));
}
