#include "study/outage.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "gas/air.hpp"
#include "lines/lines.hpp"
#include "solve/answer.hpp"
#include "support/lines.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;
using study::Outage;
using study::WayBack;

namespace {

/// The ejector's head, whose 'back-leak' is stated, without what it states.
line::Line unstated(line::Line line) {
  for (line::Element& e : line.elements)
    if (e.pump) e.pump->back_leak.reset();
  return line;
}

/// A pump, a reservoir of a litre and a nozzle that its part seals. `back_leak` in m3/(s Pa); 0: not stated.
line::Line vessel(double back_leak, double mass = 2e-3) {
  support::Builder builder;
  builder.pump("pump", {{0.0, 8.0}, {30e3, 4.6}, {60e3, 1.1}, {71e3, 0.0}}).reservoir("tank", 1e-3);
  builder.nozzle("nozzle", 1e-3, 6e-3, 1.8e-3).part(mass, 0.0);
  if (back_leak > 0.0) builder.line.elements[0].pump->back_leak = back_leak;
  return builder.line;
}

}  // namespace

// Filling through an ISO 6358 element, isothermal: in r = p/p_amb, dr/dt = 1/tau up to b and sqrt(1 -
// ((r-b)/(1-b))^2)/tau beyond, so t = tau (b - r0 + (1-b) asin((r1-b)/(1-b))), tau = V/(C rho0 R T). (Ellipse of
// ISO 6358-1:2013, as Isermann, eq. 7.2.3, has it; integrated by hand.) The nozzle's 5 uL are a 200,000th of the tank.
TEST_CASE("a sealed vessel fills through the pump that stands still", "[study][outage][literature]") {
  const double leak = 2e-11;
  const line::Line line = vessel(leak);
  const study::Hold held = study::hold(line);
  REQUIRE(held.holds());
  const std::vector<Outage> all = study::outages(line, held, solve::Thermal::isothermal);
  REQUIRE(all.size() == 1);
  REQUIRE(all[0].tips.size() == 1);

  const double b = line::Iso{}.critical_ratio.value, ambient = line.site.pressure;
  const double tau = 1e-3 / (leak * gas::free_air_density * gas::air_at(line.site.temperature).rt);
  const auto filled = [&](double r0, double r1) {
    const auto from = [&](double r) { return r < b ? r - b : (1.0 - b) * std::asin((r - b) / (1.0 - b)); };
    return tau * (from(r1) - from(r0));
  };
  const double start = 1.0 - held.tips[0].least.vacuum / ambient;
  const double weight = 2e-3 * 9.80665 / (std::numbers::pi * 0.25e-6);
  CHECK_THAT(all[0].tips[0].weight.value(), WithinRel(filled(start, 1.0 - weight / ambient), 1e-4));
  CHECK_THAT(all[0].tips[0].moves.value(), WithinRel(filled(start, 1.0 - held.tips[0].needed_vacuum / ambient), 1e-4));
}

TEST_CASE("what is tight holds beyond the hour", "[study][outage]") {
  const line::Line line = vessel(0.0);
  const std::vector<Outage> all = study::outages(line, study::hold(line));
  REQUIRE(all.size() == 2);
  CHECK(all[0].way == WayBack::shut);
  CHECK_FALSE(all[0].tips[0].weight);
  CHECK(all[1].way == WayBack::open);
  CHECK(all[1].tips[0].weight.value() < 1.0);
}

TEST_CASE("a source's way back lies between none and an open port", "[study][outage][property]") {
  const line::Line stated = test::scenario("ejector-head");
  const std::vector<Outage> known = study::outages(stated, study::hold(stated));
  REQUIRE(known.size() == 1);
  const line::Line line = unstated(stated);
  const std::vector<Outage> bounds = study::outages(line, study::hold(line));
  REQUIRE(bounds.size() == 2);
  const study::TipOutage &open = bounds[1].tips.at(0), &between = known[0].tips.at(0), &shut = bounds[0].tips.at(0);
  CHECK(open.moves.value() < between.moves.value());
  CHECK(between.moves.value() < shut.moves.value());
  CHECK(open.weight.value() < between.weight.value());
  CHECK(between.weight.value() < shut.weight.value());
  CHECK(open.moves.value() < open.weight.value());
}

TEST_CASE("behind a check valve it is the same what the source does", "[study][outage][property]") {
  const auto with = [](bool check) {
    support::Builder builder;
    builder.pump("pump", {{0.0, 8.0}, {30e3, 4.6}, {60e3, 1.1}, {71e3, 0.0}});
    if (check) builder.check_valve("check", 1.0, 0.0);
    builder.tube("hose", 2.5e-3, 0.5).leak(support::rated(0.01)).nozzle("nozzle", 1e-3, 6e-3, 1.8e-3).part(20e-6, 0.0);
    return study::outages(builder.line, study::hold(builder.line));
  };
  const std::vector<Outage> kept = with(true), bare = with(false);
  REQUIRE(kept.size() == 2);
  // The pump's own dead space, 10 uL for the 2.5 mL of the hose, is filled through the valve once that opens again.
  CHECK_THAT(kept[1].tips.at(0).weight.value(), WithinRel(kept[0].tips.at(0).weight.value(), 5e-3));
  CHECK(bare[1].tips.at(0).weight.value() < 0.1 * bare[0].tips.at(0).weight.value());
}

// The first part to drop leaves a hole of 1 mm in a tank of 0.1 L: through it come some 0.2 L/s, so that the vacuum is
// gone in a moment, where the other part alone would have hung on for longer than the first did.
TEST_CASE("a part that drops takes the others with it", "[study][outage]") {
  const auto with = [](double second_rim) {
    support::Builder builder;
    builder.pump("pump", {{0.0, 8.0}, {30e3, 4.6}, {60e3, 1.1}, {71e3, 0.0}}).reservoir("tank", 1e-4);
    builder.nozzle("wide", 4e-3, 6e-3, 5e-3).after("tank").nozzle("fine", 1e-3, 6e-3, second_rim).after("tank");
    builder.part(2e-3, 0.0).line.elements[0].pump->back_leak = 1e-11;
    return study::outages(builder.line, study::hold(builder.line)).at(0).tips;
  };
  const std::vector<study::TipOutage> both = with(1.8e-3);
  REQUIRE(both.size() == 2);
  const double fine = both[1].weight.value(), wide = both[0].weight.value();
  CHECK(fine < wide);
  CHECK(wide < fine + 0.5);
  CHECK(both[0].moves.value() <= wide);

  support::Builder alone;
  alone.pump("pump", {{0.0, 8.0}, {30e3, 4.6}, {60e3, 1.1}, {71e3, 0.0}}).reservoir("tank", 1e-4);
  alone.nozzle("wide", 4e-3, 6e-3, 5e-3).part(2e-3, 0.0).line.elements[0].pump->back_leak = 1e-11;
  CHECK(study::outages(alone.line, study::hold(alone.line)).at(0).tips.at(0).weight.value() > 1.2 * fine);
}

TEST_CASE("a part that is not held is none that drops", "[study][outage]") {
  const line::Line line = vessel(2e-11, 1.0);
  CHECK(study::outages(line, study::hold(line)).empty());
}
