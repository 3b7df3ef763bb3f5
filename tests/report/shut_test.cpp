// A valve that stands closed, in the words of every answer.
#include <catch2/catch.hpp>

#include "read/line_file.hpp"
#include "report/hold_text.hpp"
#include "report/pumps_text.hpp"
#include "report/text.hpp"
#include "report/verdicts.hpp"

using namespace airtally;
using Catch::Matchers::Contains;

namespace {

line::Line with_valve(const std::string& state) {
  return read::read_line_text(R"toml(format = 1
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa", "6 L/min"], ["60 kPa", "0 L/min"]]
[[element]]
name = "valve"
kind = "valve"
conductance = "0.2 dm3/(s bar)"
vent = { conductance = "0.1 dm3/(s bar)" }
state = ")toml" + state + R"toml("
[[element]]
name = "hose"
kind = "tube"
bore = "2 mm"
length = "0.5 m"
leak = { rated = "0.5 mL/min", at = "60 kPa" }
[[element]]
name = "nozzle"
kind = "nozzle"
bore = "0.5 mm"
length = "3 mm"
rim = "1 mm"
[part]
mass = "10 mg"
gap = "3..12 um"
length = "2 mm"
[move]
lift = "5 m/s2"
)toml",
                              "shut.toml");
}

}  // namespace

TEST_CASE("a valve that is shut is what every answer names", "[report][property]") {
  const report::Look look;
  const std::string open_it = "Open it, in the file or here, and ask again: --set \"valve.state=open\".";
  for (const bool closed : {true, false}) {
    const line::Line line = with_valve(closed ? "closed" : "vent");
    const std::string shut = closed ? "The valve is closed" : "The valve lets air in (vent)";
    const auto tips = solve::usual_tips(line);
    CAPTURE(closed);
    const std::string steady = report::steady_verdict(line, solve::steady(line, tips), look);
    CHECK_THAT(steady, Contains(shut + ", so the tip has none of the 60.0 kPa that the pump pulls. " + open_it));
    const study::Strip strip = study::strip(line, tips);
    CHECK_THAT(report::strip_verdict(line, strip, look),
               Contains(shut) && Contains(open_it) && !Contains("restrictions"));
    CHECK_THAT(report::sheet_text(line, strip, look), Contains("OPEN IT FIRST. " + shut));
    const study::Hold hold = study::hold(line);
    CHECK_THAT(report::hold_verdict(line, hold, look), Contains(shut + ". " + open_it));
    CHECK_THAT(report::hold_text(line, hold, look), !Contains("e-"));
    const study::Pumps pumps = study::pumps(line, {});
    CHECK_THAT(report::pumps_verdict(line, pumps, look),
               Contains(shut + ", so no pump's vacuum gets to the tip. " + open_it));
    CHECK_THAT(report::rank_verdict(line, study::rank(line, tips), look), Contains(shut + ", so the tip has none"));
  }
  const line::Line open = with_valve("open");
  const auto tips = solve::usual_tips(open);
  CHECK_THAT(report::steady_verdict(open, solve::steady(open, tips), look), !Contains("Open it"));
  CHECK_THAT(report::hold_verdict(open, study::hold(open), look), !Contains("Open it"));
  CHECK_THAT(report::sheet_text(open, study::strip(open, tips), look), !Contains("OPEN IT"));
  CHECK_THAT(report::pumps_verdict(open, study::pumps(open, {}), look), !Contains("Open it"));
}
