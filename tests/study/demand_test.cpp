// A pump against its line: the two curves and where they meet.
#include "study/demand.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "lines/lines.hpp"
#include "solve/answer.hpp"

using namespace airtally;
using solve::TipState;

// A blocked line with one laminar leak k, stated as 12 mL/min at 60 kPa, lets in m(p) = m_rated (pa^2 - p^2)/(pa^2 -
// (pa - 60 kPa)^2) at the leak (docs/physics.md, rated leak), and with hardly any drop on the way the pump sees just
// that.
TEST_CASE("a blocked line takes what its leak lets in", "[study][closed-form]") {
  line::Line line;
  line.elements.resize(2);
  line.elements[0].name = "pump";
  line.elements[0].kind = line::Kind::pump;
  line.elements[0].pump = line::Pump{};
  line.elements[0].pump->flow = {{0.0, 1.6e-4}, {60e3, 2e-5}, {71e3, 0.0}};
  line.elements[1].name = "nozzle";
  line.elements[1].kind = line::Kind::nozzle;
  line.elements[1].restriction = line::Bore{10e-3, 5e-3, 0.0, 0.0};
  const double rated = 2e-6, at = 60e3;
  line.elements[0].leaks = {line::RatedLeak{rated, at, false}};
  const std::vector<std::vector<TipState>> states{{TipState::blocked}};
  const study::PumpAgainstLine against = study::pump_against_line(line, states);
  const double ambient = line.site.pressure;
  const auto square = [](double x) { return x * x; };
  REQUIRE(against.demands.size() == 1);
  for (const study::DemandPoint& point : against.demands.front().curve) {
    const double expected =
        rated * (square(ambient) - square(ambient - point.vacuum)) / (square(ambient) - square(ambient - at));
    CHECK(point.flow == Approx(expected).epsilon(1e-6));  // the solver closes its balances to 1e-9
  }
}

TEST_CASE("the line at rest lies on both curves", "[study][property]") {
  for (const char* name : {"jewel-setter", "seed-tray", "ejector-head"}) {
    CAPTURE(name);
    const line::Line line = test::scenario(name);
    const std::vector<std::vector<TipState>> states{solve::all_tips(line, TipState::open),
                                                    solve::all_tips(line, TipState::part)};
    const study::PumpAgainstLine against = study::pump_against_line(line, states);
    for (const study::Demand& demand : against.demands) {
      const solve::SteadyAnswer rest = solve::steady(line, demand.tips);
      CHECK(demand.meets.vacuum == Approx(rest.sources.front().vacuum).epsilon(1e-9));
      double before = -1.0, flow = -1.0;
      bool bracketed = false;
      for (const study::DemandPoint& point : demand.curve) {
        CHECK(point.vacuum > before);
        CHECK(point.flow >= flow * (1.0 - 1e-9));  // choked at an open tip it no longer rises
        if (before < demand.meets.vacuum && demand.meets.vacuum <= point.vacuum) {
          bracketed = true;
          CHECK(demand.meets.flow >= flow * (1.0 - 1e-9));
          CHECK(demand.meets.flow <= point.flow * (1.0 + 1e-9));
        }
        before = point.vacuum;
        flow = point.flow;
      }
      CHECK(bracketed);
      // And on the pump's, between two of its points.
      const auto& pump = against.pump.curve;
      for (std::size_t k = 1; k < pump.size(); ++k)
        if (pump[k - 1].vacuum <= demand.meets.vacuum && demand.meets.vacuum <= pump[k].vacuum) {
          CHECK(demand.meets.flow <= pump[k - 1].flow * (1.0 + 1e-9));
          CHECK(demand.meets.flow >= pump[k].flow * (1.0 - 1e-9));
        }
    }
  }
}

TEST_CASE("a spare pump has its own curve, at the same site", "[study][property]") {
  const line::Line line = test::scenario("jewel-setter");
  line::Element same = line.elements.front(), twice = same;
  same.name = "the same";
  twice.name = "two of them";
  twice.pump->speed = 2.0;
  const std::vector<std::vector<TipState>> states{solve::usual_tips(line)};
  const std::vector<line::Element> spares{same, twice};
  const study::PumpAgainstLine against = study::pump_against_line(line, states, spares);
  REQUIRE(against.spares.size() == 2);
  CHECK(against.spares[1].name == "two of them");
  for (std::size_t k = 0; k < against.pump.curve.size(); ++k) {
    CHECK(against.spares[0].curve[k].flow == against.pump.curve[k].flow);
    CHECK(against.spares[1].curve[k].flow == Approx(2.0 * against.pump.curve[k].flow));
  }
}
