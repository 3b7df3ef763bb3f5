// Conductances against the standard's formula, the nozzle and closed forms.
#include "laws/conductance.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "laws/passage.hpp"
#include "support/air.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

using support::air;

}  // namespace

TEST_CASE("an ISO 6358 element", "[laws][literature]") {
  // ISO 6358-1:2013 (equation read in Isermann, eq. 7.2.3; value recomputed): C = 1 dm3/(s bar), b = 0.3.
  const Conductance valve{1e-8, 0.3};
  const auto litres = [&](double p1, double p2, double t) {
    return conductance(valve, {p1, p2}, gas::air_at(t)).m / gas::free_air_density * 6e4;
  };
  CHECK_THAT(litres(100e3, 90e3, 293.15), WithinRel(30.905, 5e-5));
  CHECK_THAT(litres(100e3, 60e3, 293.15), WithinRel(54.211, 5e-5));
  CHECK_THAT(litres(100e3, 20e3, 293.15), WithinRel(60.000, 5e-5));
  CHECK_THAT(litres(60e3, 20e3, 293.15), WithinRel(35.959, 5e-5));
  CHECK_THAT(litres(100e3, 20e3, 353.15), WithinRel(54.666, 5e-5));
  CHECK_THAT(conductance(valve, {100e3, 20e3}, air).m, WithinRel(1.185e-3, 1e-12));
}

TEST_CASE("the ellipse stands for the nozzle within 0.152 % of choked flow", "[laws][literature]") {
  // Computed from both formulas: the largest difference is 0.152 % of choked flow, the slope near rest 0.9970 of the
  // nozzle's. b = 0.528282, flows scaled to the same choked one.
  const Passage ideal{2e-3, 0.0, 0.0, 0.0};
  const double p0 = 100e3;
  const double choked = choked_flow(ideal, p0, air);
  const Conductance same{choked / (gas::free_air_density * p0), 0.528282};
  double largest = 0.0;
  for (double r = 0.5283; r < 0.998; r += 0.0005) {
    const Ends ends{p0, r * p0};
    largest = std::max(largest, std::abs(conductance(same, ends, air).m - passage(ideal, ends, air).m) / choked);
  }
  CHECK_THAT(largest, WithinRel(0.00152, 0.01));
  const Ends small{p0, 0.998 * p0};
  CHECK_THAT(conductance(same, small, air).m / passage(ideal, small, air).m, WithinAbs(0.9970, 5e-4));
}

TEST_CASE("conductance of a hole from its area", "[laws][literature]") {
  // JIS B 8390 and ISO 6358 conversions (recalled, value recomputed): 0.1992 dm3/(s bar) per mm2 at Cd = 1; 5.020 mm2
  // per unit of C, in rounded use S = 5 C; 11.95 L/min of free air per mm2 from 100 kPa.
  const double one_mm2 = std::sqrt(4e-6 / std::numbers::pi);
  const Conductance of = hole(one_mm2, 1.0);
  CHECK_THAT(of.c, WithinRel(0.1992e-8, 5e-4));
  CHECK_THAT(1e-8 / of.c, WithinRel(5.020, 1e-3));
  CHECK_THAT(1e-8 / of.c, WithinRel(5.0, 1e-2));
  CHECK_THAT(conductance(of, {100e3, 10e3}, air).m / gas::free_air_density * 6e4, WithinRel(11.95, 1e-3));
}

TEST_CASE("two equal elements in series", "[laws][literature]") {
  // Closed form: with b = 0.5, 100 -> p -> 20 kPa, 4 r (1 - r) = r^2 gives p = 80 kPa exactly and 48 L/min for C = 1.
  const Conductance half{1e-8, 0.5};
  const auto middle = [&](double last) {
    double low = last;
    double high = 100e3;
    for (int i = 0; i < 200; ++i) {
      const double p = 0.5 * (low + high);
      const double surplus = conductance(half, {100e3, p}, air).m - conductance(half, {p, last}, air).m;
      (surplus > 0.0 ? low : high) = p;
    }
    return low;
  };
  const double p = middle(20e3);
  CHECK_THAT(p, WithinRel(80e3, 1e-12));
  CHECK_THAT(conductance(half, {100e3, p}, air).m / gas::free_air_density * 6e4, WithinRel(48.0, 1e-9));
  // From 100 to 99 kPa 0.7080 of one alone (value recomputed); 1/sqrt(2) in the limit.
  const double pair = conductance(half, {100e3, middle(99e3)}, air).m;
  CHECK_THAT(pair / conductance(half, {100e3, 99e3}, air).m, WithinRel(0.7080, 3e-4));
}
