#include "hunt/verdict/worst.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "hunt/bench.hpp"
#include "hunt/fit/evidence.hpp"
#include "line/variant.hpp"

using namespace airtally;
using namespace airtally::hunt;
using Catch::Matchers::WithinAbs;

TEST_CASE("what a leak costs is what the line's own solve gains without it", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const std::size_t joint = *line::find(line, "joint"), hose = *line::find(line, "hose");
  const Suspects all = suspects(line, {});
  // As the file has it: every factor 1.
  std::vector<double> z;
  for (const Unknown& unknown : all.unknowns)
    z.push_back(unknown.what == What::offset ? 0.0 : unknown.prior.z_of(unknown.what == What::leak ? 1e-6 : 1.0));
  for (std::size_t k = 0; k < z.size(); ++k)
    if (all.unknowns[k].what == What::leak && all.unknowns[k].element == joint) z[k] = all.unknowns[k].prior.z_of(1.0);
  const std::vector<solve::TipState> tips{solve::TipState::part};
  TipCosts costs(all, tips);
  const std::vector<double> gains = costs.gains(z);

  line::Line as_it_is = line, mended = line;
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    for (line::Line* each : {&as_it_is, &mended})
      if (i != joint || each == &mended) line::seal(each->elements[i]);
  const auto vacuum = [&](const line::Line& of) { return solve::steady(of, tips).tips.front().tip_vacuum(); };
  REQUIRE(vacuum(mended) > vacuum(as_it_is) + 100.0);
  CHECK_THAT(gains[joint], WithinAbs(vacuum(mended) - vacuum(as_it_is), 0.1));
  CHECK_THAT(costs.tip_vacuum(), WithinAbs(vacuum(as_it_is), 0.1));
  CHECK_THAT(gains[hose], WithinAbs(0.0, 1.0));
  CHECK_THAT(costs.gain(z, joint), WithinAbs(gains[joint], 0.05));
}

TEST_CASE("what a leak costs beyond the file is what the line's own solve gains with the file's leak",
          "[hunt][property]") {
  line::Line line = tests::bench_line();
  const std::size_t joint = *line::find(line, "joint");
  const Suspects all = suspects(line, {});
  const std::vector<solve::TipState> tips{solve::TipState::part};
  // Its leak that many times the file's, its way as clear as the file has it.
  const auto leaking = [&](const Suspects& suspects, double factor) {
    std::vector<double> at = tests::with(suspects, What::leak, joint, factor);
    for (std::size_t k = 0; k < at.size(); ++k)
      if (suspects.unknowns[k].what == What::blockage && suspects.unknowns[k].element == joint)
        at[k] = suspects.unknowns[k].prior.z_of(1.0);
    return at;
  };
  const std::vector<double> z = leaking(all, 4.0);
  TipCosts costs(all, tips);
  const double filed = [&] {
    costs.gains(leaking(all, 1.0));
    return costs.tip_vacuum();
  }();
  const std::vector<double> gains = costs.gains(z);
  const double now = costs.tip_vacuum(), excess = costs.excess(z, joint);
  CHECK_THAT(excess, WithinAbs(filed - now, 0.1));
  CHECK(excess > notable * now);
  CHECK(excess < gains[joint]);
  // As filed, or better than that, there is none but what a way that is clear to a millionth costs.
  for (const double factor : {1.0, 0.3}) CHECK_THAT(costs.excess(leaking(all, factor), joint), WithinAbs(0.0, 0.01));
  // Of a stated range all is as filed, and what grew beyond it is not.
  auto& clearance = std::get<line::Clearance>(line.elements[joint].leaks.front()).gap;
  clearance.low = 10e-6;
  clearance.high = 40e-6;
  clearance.spread = units::Spread::uniform;
  const Suspects ranged = suspects(line, {});
  TipCosts ranged_costs(ranged, tips);
  CHECK_THAT(ranged_costs.excess(leaking(ranged, 4.0), joint), WithinAbs(0.0, 0.01));
  CHECK(ranged_costs.excess(leaking(ranged, 10.0), joint) > 0.0);

  const Costs both = costs_of(all, {z, leaking(all, 1.0)}, tips);
  CHECK_THAT(both.excess[0][joint], WithinAbs(excess, 0.1));
  CHECK(both.excess[1][joint] == 0.0);
}

TEST_CASE("the same evidence on a line of its own says the same", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const Suspects all = suspects(line, {});
  std::vector<Reading> readings{tests::capped(line, "tee", 60e3), tests::capped(line, "joint", 45e3)};
  readings.back().noise = 700.0;
  Bench coarse;
  coarse.gauge_repeatability = 900.0;
  Evidence evidence(all, readings, coarse);
  Evidence other = evidence.another();
  CHECK(other.noise() == evidence.noise());
  CHECK(evidence.noise()[0] > Evidence(all, readings, {}).noise()[0]);
  CHECK(evidence.noise()[1] == 700.0);
  const std::vector<double> z(all.unknowns.size(), 0.3);
  std::vector<double> r(2), again(2);
  REQUIRE(evidence.evaluate(z, r, {}));
  REQUIRE(other.evaluate(z, again, {}));
  CHECK(r == again);
}
