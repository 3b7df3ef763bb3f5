// How a leak that has grown passes air.
#include "hunt/beliefs/torn.hpp"

#include <catch2/catch.hpp>

#include "hunt/bench.hpp"
#include "hunt/hunt.hpp"
#include "hunt/judgement.hpp"
#include "support/slopes.hpp"

using namespace airtally;
using namespace airtally::hunt;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double millilitre = 1.185e-6 / 60.0;  // of free air in a minute [kg/s]

/// What the tee's gauge shows of a line in a setting, its unknowns `z`.
Reading read_of(const line::Line& line, const Suspects& all, const std::vector<double>& z, const char* cap,
                double hole) {
  Reading reading = tests::capped(line, cap);
  reading.setting.hole = hole;
  Rig rig(all, line::topology(all.line), reading.setting);
  rig.solve(all.values(z));
  reading.value = rig.read(Instrument::vacuum, reading.at, all.values(z));
  return reading;
}

/// The unknowns of a line that is well but for a leak and how it passes air.
std::vector<double> state(const Suspects& all, std::size_t element, double leak, double hole_share) {
  std::vector<double> z = tests::with(all, What::leak, element, leak / all.leak_at_one[element]);
  for (std::size_t k = 0; k < z.size(); ++k)
    if (all.unknowns[k].what == What::hole_share) z[k] = all.unknowns[k].prior.z_of(hole_share);
  return z;
}

}  // namespace

TEST_CASE("what has grown of a leak is a hole to its share, and the flow is what it was", "[hunt][closed-form]") {
  for (const double factor : {0.0, 0.3, 1.0, 1.5, 4.0, 30.0, 3000.0})
    for (const double share : {0.0, 0.2, 1.0}) {
      const Torn leak = torn(factor, share);
      CAPTURE(factor, share);
      CHECK_THAT(leak.own + leak.hole, WithinRel(factor, 1e-14));
      CHECK((factor > 1.0 || leak.hole == 0.0));
      if (factor == 0.0 || factor == 1.0) continue;  // where the slopes bend
      CHECK(support::slope_agrees(
          leak.own_by_factor, [&](double h) { return torn(factor + h, share).own; }, factor, 1e-9));
      CHECK(support::slope_agrees(
          leak.hole_by_factor, [&](double h) { return torn(factor + h, share).hole; }, factor, 1e-9));
      CHECK_THAT(leak.by_share, WithinAbs(torn(factor, 1.0).hole, 1e-12 * factor));
    }
  CHECK_THAT(torn(4.0, 1.0).hole / 4.0, WithinRel(9.0 / 109.0, 1e-12));
  CHECK(torn(30.0, 1.0).hole / 30.0 > 0.89);
}

TEST_CASE("a hole lets in at little vacuum what a gap does at much", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const Suspects all = suspects(line, {});
  const std::size_t hose = *line::find(line, "hose");
  // 3 L/min at 60 kPa, and a plate that takes most of the pump's flow: about 10 kPa are left.
  const double gap = read_of(line, all, state(all, hose, 3000.0 * millilitre, 0.0), "tee", 1.5e-3).value,
               hole = read_of(line, all, state(all, hose, 3000.0 * millilitre, 1.0), "tee", 1.5e-3).value;
  CHECK(hole < gap - 500.0);
}

// Told as fine gaps, readings of a torn hose spoke for a pump that had lost flow besides, or for one that no pump of
// its curve is.
TEST_CASE("a torn hose is found as one, and no pump is blamed for it", "[hunt][property]") {
  const line::Line line = tests::bench_line();
  const Suspects all = suspects(line, {});
  const std::size_t filter = *line::find(line, "filter");
  for (const double share : {0.02, 0.98}) {
    const std::vector<double> z = state(all, filter, 1500.0 * millilitre, share);
    Readings readings;
    for (const auto& [cap, hole] : {std::pair{"tee", 0.0},
                                    {"tee", 0.5e-3},
                                    {"tee", 1e-3},
                                    {"filter", 0.0},
                                    {"filter", 0.5e-3},
                                    {"filter", 1e-3},
                                    {"joint", 0.0},
                                    {"nozzle", 0.0}})
      readings.list.push_back(read_of(line, all, z, cap, hole));
    HuntOptions options;
    options.next = 0;
    const Hunt found = hunt::hunt(line, readings, options);
    CAPTURE(share);
    CHECK(found.quality.chance > 0.05);
    CHECK(verdict(found) == Verdict::sure);
    REQUIRE(found.elements.front().element == filter);
    CHECK(found.elements.front().leak.low < 1500.0 * millilitre);
    CHECK(found.elements.front().leak.high > 1500.0 * millilitre);
    for (const Finding& finding : amiss(found)) CHECK(finding.element == filter);
    for (const Nuisance& n : found.others)
      if (n.unknown.what == What::hole_share) CHECK((share > 0.5 ? n.value.median > 0.6 : n.value.median < 0.4));
  }
}
