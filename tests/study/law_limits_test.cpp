// Where a law's range ends, the answer says so: which element, how far beyond, and what it may change.
#include "study/law_limits.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "solve/answer.hpp"
#include "study/slot_heads.hpp"
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

TEST_CASE("what a head takes from a laminar flow", "[study][closed-form]") {
  // a m + b m^2 = 1 with a = 1 and b = s: m = (sqrt(1 + 4 s) - 1)/(2 s). At s = 2 that is exactly 1/2.
  CHECK(lost_to_inertia(0.0) == 0.0);
  CHECK_THAT(lost_to_inertia(2.0), WithinRel(0.5, 1e-12));
  CHECK_THAT(lost_to_inertia(0.75), WithinRel(1.0 / 3.0, 1e-12));
  CHECK_THAT(lost_to_inertia(1e-6), WithinRel(1e-6, 1e-5));
}

TEST_CASE("a part that hangs too far off the rim", "[study][property]") {
  CHECK(said(picker(5e-6).line, TipState::part) == "");
  // At 20 um, by hand: Re = m/(pi ri mu) is a few hundred; the law's m through 2 pi ri h at the mouth's pressure has a
  // head, 54/35 of rho v^2/2, near twice the drop, and a m + 2 a m^2 = 1 has m = 1/2.
  const std::string wide = said(picker(20e-6).line, TipState::part);
  CAPTURE(wide);
  CHECK_THAT(
      wide, Contains("nozzle: the gap between the part and 'nozzle' is so short or wide in this state that the inertia "
                     "of the air matters, which its laminar law leaves out; in this line the true leak is about ") &&
                Contains(" % smaller than computed, and the vacuum behind it about 78.0 kPa instead of 74.4 kPa.\n"));
  const std::string wider = said(picker(80e-6).line, TipState::part);
  CHECK_THAT(
      wider,
      Contains("nozzle: the gap between the part and 'nozzle' runs at Reynolds number ") &&
          Contains(
              "beyond 1000 where its laminar law holds; the true leak is smaller than computed, in this line by "));
  CHECK(said(picker(30e-6).line, TipState::blocked) == "");
}

// By hand: a pump of 20 L/min and 80 kPa at a rim, nothing between. The line comes to where the pump takes what the gap
// passes by a m + b m^2 = drop.
TEST_CASE("inertia lowers a leak by what the line leaves of it", "[study][closed-form]") {
  double before = 0.0, most = 0.0;
  for (const double gap : {3e-6, 10e-6, 20e-6, 40e-6, 80e-6, 200e-6, 1e-3}) {
    const line::Line line = picker(gap).line;
    solve::Network network(line, line::topology(line), solve::all_tips(line, TipState::part));
    for (const std::size_t i : {1, 2}) network.set_restriction(i, false);
    solve::Steady solver(network);
    solve::Pressures x;
    solver.solve(network, x);
    const double less = with_heads(network, solver, x).less.back();

    const laws::FaceGap face{gap, 0.5e-3, 1e-3};
    const double area = 2.0 * M_PI * 0.5e-3 * gap, ambient = 101325.0;
    const auto passed = [&](double p, bool heads) {
      const double m = laws::face_gap(face, {ambient, p}, network.air).m, drop = ambient - p;
      const double a = drop / m, b = heads ? 54.0 / 35.0 * 0.5 * network.air.rt / p / (area * area) : 0.0;
      return b > 0.0 ? (std::sqrt(a * a + 4.0 * b * drop) - a) / (2.0 * b) : m;
    };
    const auto rest = [&](bool heads) {
      double low = network.sources[0].ultimate(), high = ambient * (1.0 - 1e-12);
      for (int i = 0; i < 200; ++i) {
        const double p = 0.5 * (low + high);
        (network.sources[0].at(p).m > passed(p, heads) ? high : low) = p;
      }
      return network.sources[0].at(low).m;
    };
    CAPTURE(gap, less);
    CHECK_THAT(less, WithinAbs(1.0 - rest(true) / rest(false), 1e-5));
    most = std::max(most, less);
    before = less;
  }
  CHECK(most > 0.3);
  CHECK(before < 0.2 * most);  // a gap so wide passes what the pump takes, whatever its heads
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
  const std::string all = said(support::eight_nozzles(), TipState::part);
  CAPTURE(all);
  CHECK_THAT(
      all, Contains(": the gap between the part and 'nozzle ") &&
               Contains(" % smaller than computed, and the vacuum behind it about 78.0 kPa instead of 65.2 kPa. So it "
                        "is, no worse, with 'nozzle ") &&
               Contains("' and 4 more.\n"));
  CHECK(std::count(all.begin(), all.end(), '\n') == 1);
  CHECK(said(support::eight_nozzles(), TipState::open) == "");
}

TEST_CASE("a worn joint whose heads take a third of its leak", "[study][property]") {
  CHECK_THAT(said(support::two_spindles(), TipState::part),
             Contains("joint right: the clearance of 'joint right' is so short or wide in this state"));
}
