// Flows, drops and signs as they are read off a solved line.
#include "solve/answer.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "support/lines.hpp"
#include "support/random_line.hpp"

using namespace airtally;
using namespace airtally::solve;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Checks, end by end or merged group by merged group, that what comes out at the pump side went in beyond, and returns
/// how many were checked.
int check_balance(const line::Line& line, const SteadyAnswer& answer) {
  const line::Topology t = line::topology(line);
  const std::size_t n = line.elements.size();
  std::vector<std::size_t> group(n);
  for (std::size_t i = 0; i < n; ++i) group[i] = i;
  const auto find = [&](std::size_t i) {
    while (group[i] != i) i = group[i];
    return i;
  };
  for (std::size_t i = 0; i < n; ++i)
    if (t.joined[i] != line::none) group[find(i)] = find(t.joined[i]);
  std::map<std::size_t, double> in, out;
  double free = 0.0;
  for (const SourceState& s : answer.sources) free += s.flow;
  for (std::size_t i = 0; i < n; ++i) {
    if (line.elements[i].kind == line::Kind::nozzle) continue;
    in[find(i)] += answer.elements[i].leak;
    for (const std::size_t k : t.beyond[i]) in[find(i)] += answer.elements[k].flow;
    out[find(i)] += answer.elements[i].flow;
  }
  for (const auto& [g, flow] : out) {
    CAPTURE(line.elements[g].name, flow, in[g]);
    CHECK(std::fabs(flow - in[g]) <= 1e-8 * std::max(std::fabs(flow), 1e-3 * free) + 1e-20);
  }
  return static_cast<int>(out.size());
}

}  // namespace

TEST_CASE("flows add up through tees and joins", "[solve][property]") {
  int checked = 0;
  for (const support::Named& named : support::all_lines())
    for (const TipState state : {TipState::open, TipState::part, TipState::blocked}) {
      if (std::string(named.name) == "blow off") continue;  // a vent's air comes in at neither end
      CAPTURE(named.name, static_cast<int>(state));
      checked += check_balance(named.line, steady(named.line, all_tips(named.line, state)));
    }
  support::Wildness no_vents;
  no_vents.vents = false;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    const line::Line line = support::random_line(seed, no_vents);
    const auto tips = support::random_states(seed, line::all_of(line, line::Kind::nozzle).size());
    CAPTURE(seed);
    checked += check_balance(line, steady(line, tips));
  }
  CHECK(checked > 2000);
}

TEST_CASE("drops and vacuums fit together", "[solve][property]") {
  for (const support::Named& named : support::all_lines()) {
    const SteadyAnswer answer = steady(named.line, all_tips(named.line, TipState::part));
    const line::Topology t = line::topology(named.line);
    CAPTURE(named.name);
    for (const ElementState& e : answer.elements) {
      CHECK_THAT(e.pressure + e.vacuum, WithinRel(answer.ambient, 1e-15));
      if (t.before[e.element] == line::none) {
        CHECK(e.drop == 0.0);
        continue;
      }
      const double before = answer.elements[t.before[e.element]].vacuum;
      CHECK_THAT(e.drop, WithinAbs(before - e.vacuum, 1e-9));
      if (line::is_place(named.line.elements[e.element].kind)) CHECK(e.drop == 0.0);
      if (e.flow > 0.0) CHECK(e.drop >= 0.0);  // air runs from the tip towards the pump, down the pressure
    }
    for (const SourceState& s : answer.sources) {
      CHECK(s.vacuum == answer.elements[s.element].vacuum);
      CHECK(s.flow == answer.elements[s.element].flow);
    }
  }
}

TEST_CASE("tips read as their state says", "[solve][property]") {
  const line::Line line = support::jewel_setter();
  const SteadyAnswer open = steady(line, all_tips(line, TipState::open));
  const SteadyAnswer part = steady(line, all_tips(line, TipState::part));
  const SteadyAnswer blocked = steady(line, all_tips(line, TipState::blocked));
  CHECK(open.tips[0].mouth_vacuum == 0.0);
  CHECK(open.tips[0].tip_vacuum() == open.tips[0].vacuum);
  CHECK(part.tips[0].tip_vacuum() == part.tips[0].mouth_vacuum);
  CHECK(blocked.tips[0].flow == 0.0);
  CHECK_THAT(blocked.tips[0].mouth_vacuum, WithinRel(blocked.tips[0].vacuum, 1e-12));  // no flow, no drop
  CHECK(open.tips[0].vacuum < part.tips[0].mouth_vacuum);
  CHECK(part.tips[0].mouth_vacuum < blocked.tips[0].mouth_vacuum);
  CHECK(open.tips[0].flow > part.tips[0].flow);
}

TEST_CASE("a part's porosity takes what it is rated at", "[solve][closed-form]") {
  // 0.005 L/min at 60 kPa, laminar: k (pa^2 - p^2) with k from that point, at whatever vacuum the mouth has.
  line::Line line = support::eight_nozzles();
  line.part->gap = 0.0;
  const SteadyAnswer answer = steady(line, all_tips(line, TipState::part));
  const double pa = answer.ambient, p60 = pa - 60e3;
  const double k = support::free_litres(0.005) / (pa * pa - p60 * p60);
  for (const Tip& tip : answer.tips) {
    const double p = pa - tip.mouth_vacuum;
    double expected = k * (pa * pa - p * p);
    for (const line::Leak& leak : line.elements[tip.element].leaks)
      if (std::holds_alternative<line::RatedLeak>(leak))
        expected += support::free_litres(0.02) / (pa * pa - p60 * p60) * (pa * pa - p * p);
      else
        expected += laws::conductance(laws::hole(0.15e-3), {pa, p}, gas::air_at(293.15)).m;
    CHECK_THAT(tip.flow, WithinRel(expected, 1e-8));
  }
}

TEST_CASE("a line with a part on needs a part", "[solve][property]") {
  line::Line line = support::jewel_setter();
  line.part.reset();
  line.file = "a.toml";
  CHECK_THROWS_WITH(steady(line, all_tips(line, TipState::part)),
                    "a.toml: the tip is to carry a part, but the file has no [part]; add one with mass and gap.");
  CHECK(usual_tips(line) == all_tips(line, TipState::open));
  CHECK(usual_tips(support::ring()) == std::vector<TipState>{TipState::part});
}
