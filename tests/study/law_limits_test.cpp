// Where a law's range ends, the answer says so: which element, how far beyond, and what it may change.
#include "study/law_limits.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "solve/answer.hpp"
#include "support/lines.hpp"

using namespace airtally;
using namespace airtally::study;
using Catch::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using solve::TipState;
using support::Builder;

namespace {

std::string said(const line::Line& line, TipState state) {
  std::string all;
  for (const Warning& w : at_rest(line, solve::all_tips(line, state)).limits)
    all += line.elements[w.element].name + ": " + w.sentence + "\n";
  return all;
}

Builder picker(double gap) {
  Builder b;
  b.pump("pump", {{0, 20}, {80e3, 0}}).tube("hose", 6e-3, 0.3).nozzle("nozzle", 1e-3, 3e-3, 2e-3).part(1e-5, gap);
  return b;
}

}  // namespace

TEST_CASE("a part that hangs too far off the rim", "[study][property]") {
  CHECK(said(picker(5e-6).line, TipState::part) == "");
  CHECK(said(picker(20e-6).line, TipState::part) == "");
  const std::string wider = said(picker(80e-6).line, TipState::part);
  CHECK_THAT(wider, Contains("nozzle: the gap between the part and 'nozzle' runs at Reynolds number ") &&
                        Contains("beyond 1000 up to which flow in a gap is laminar; the true leak is smaller than "
                                 "computed.\n"));
  CHECK(said(picker(30e-6).line, TipState::blocked) == "");
}

TEST_CASE("a gap that no rim lets be counted", "[study][property]") {
  Builder b = picker(5e-6);
  b.line.elements.back().rim.reset();
  b.line.part->gap = units::Quantity::uniform(3e-6, 10e-6);
  CHECK(
      said(b.line, TipState::part) ==
      "nozzle: 'nozzle' has no rim, so the gap under the part, up to 10 um, isn't counted: the part is taken to seal. "
      "Give the nozzle a 'rim', the outer diameter of its mouth.\n");
  CHECK(said(b.line, TipState::open) == "");
  CHECK(said(b.line, TipState::blocked) == "");
  const std::vector<Warning> all = warnings(b.line);  // once, however many states it is asked in
  REQUIRE(all.size() == 1);
  CHECK_THAT(all[0].sentence, Contains("has no rim"));
  b.line.part->gap = 0.0;
  CHECK(said(b.line, TipState::part) == "");
}

TEST_CASE("a gap so narrow that air slips", "[study][property]") {
  // lambda is 66 nm at 101 kPa and twice that at half of it: in a gap of 0.3 um Kn is above 0.2.
  const std::string narrow = said(picker(0.3e-6).line, TipState::part);
  CHECK_THAT(narrow,
             Contains("the gap between the part and 'nozzle' is so narrow in this state that air slips along its "
                      "walls: Knudsen number 0.") &&
                 Contains("beyond 0.1 where the slip law holds; slip makes ") &&
                 Contains(" % of its flow, and that part is an estimate."));
  Builder b = picker(5e-6);
  b.line.elements[1].leaks.push_back(support::clearance(0.4e-6, 5e-3, 4e-3));
  CHECK_THAT(said(b.line, TipState::part), Contains("hose: the clearance of 'hose' is so narrow"));
  Builder capillary;
  capillary.pump("pump", {{0, 1}, {95e3, 0}}).tube("pinhole", 12e-6, 1e-3).nozzle("nozzle", 1e-3, 3e-3, 2e-3);
  // The mean of the pump's 6 kPa and the room's 101 kPa is 54 kPa, where lambda is 0.12 um: Kn is 0.01 in 12 um, and
  // above 0.1 in 1 um.
  CHECK(said(capillary.line, TipState::open) == "");
  std::get<line::Bore>(capillary.line.elements[1].restriction).bore = 1e-6;
  CHECK_THAT(said(capillary.line, TipState::open), Contains("pinhole: 'pinhole' is so narrow in this state"));
}

TEST_CASE("a hose between laminar and turbulent", "[study][property]") {
  // 4 Re-numbers: Re = 4 m/(pi D mu), so 8 L/min of free air (1.58e-4 kg/s) in 3.7 mm is Re 3000.
  Builder b;
  b.pump("pump", {{0, 8.2}, {80e3, 0}}).tube("hose", 3.7e-3, 40.0).nozzle("nozzle", 4e-3, 3e-3, 6e-3);
  const auto tips = solve::all_tips(b.line, TipState::open);
  const solve::SteadyAnswer answer = solve::steady(b.line, tips);
  const double re = 4.0 * answer.elements[1].flow / (M_PI * 3.7e-3 * 1.813e-5);
  CAPTURE(re, answer.elements[1].drop);
  REQUIRE(re > 2000.0);
  REQUIRE(re < 4000.0);
  CHECK_THAT(said(b.line, TipState::open),
             Contains("hose: 'hose' runs at Reynolds number ") &&
                 Contains("where flow may be laminar or turbulent; the friction in its drop of ") &&
                 Contains(" % of the middle."));
  std::get<line::Bore>(b.line.elements[1].restriction).length = 0.1;  // then its drop is nothing much
  CHECK(said(b.line, TipState::open) == "");
}

TEST_CASE("many alike make one warning, at the worst of them", "[study][property]") {
  line::Line line = support::eight_nozzles();
  line.part->gap = units::Quantity(60e-6);
  line.elements[0].pump->speed = units::Quantity(8.0);
  const std::string all = said(line, TipState::part);
  CAPTURE(all);
  CHECK_THAT(all, Contains(": the gap between the part and 'nozzle ") &&
                      Contains("smaller than computed. So it is, no worse, with 'nozzle ") &&
                      Contains("' and 4 more.\n"));
  CHECK(std::count(all.begin(), all.end(), '\n') == 1);
  CHECK(said(support::eight_nozzles(), TipState::open) == "");
}

TEST_CASE("a source that another outdoes is said to be taken as shut", "[study][property]") {
  Builder b;
  b.pump("pump 1", {{0, 8}, {70e3, 0}}).tee("tee").nozzle("nozzle", 1e-3, 3e-3, 2e-3);
  b.pump("pump 2", {{0, 4}, {50e3, 0}}).tube("hose", 4e-3, 1.0).joins("tee");
  CHECK_THAT(said(b.line, TipState::blocked), Contains("pump 2") && Contains("50.0 kPa at most") &&
                                                  Contains("70.0 kPa there") && Contains("valves of a pump"));
  b.line.elements[3].kind = line::Kind::ejector;
  CHECK_THAT(said(b.line, TipState::blocked), Contains("ejector's exhaust"));
  // Both pull at the open tip, where neither is near its end.
  CHECK(said(b.line, TipState::open).find("moves no air") == std::string::npos);
}
