// Compressible flow against the tables of the text-books. The laws take a length and find their own friction factor, so
// each row first looks for the length or the pressure at which the law stands on that row.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "laws/duct.hpp"
#include "laws/friction.hpp"
#include "laws/passage.hpp"
#include "support/air.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

using support::air;
constexpr double bore = 2e-3;
constexpr double area = 0.25 * std::numbers::pi * bore * bore;
constexpr double p0 = 100e3;

/// The x in [low, high] at which a monotone f changes sign.
template <class F>
double crossing(F&& f, double low, double high) {
  const bool rising = f(low) < 0.0;
  for (int i = 0; i < 200; ++i) {
    const double middle = 0.5 * (low + high);
    ((f(middle) < 0.0) == rising ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

double friction_factor(double m) {
  const double re = reynolds(m, bore, air);
  return churchill(re, 0.0).g / re;
}

/// m sqrt(T0)/(A p0) at Mach number `mach`, from density, area and speed.
double mass_flow_parameter(double mach) {
  const double x = 1.0 + 0.2 * mach * mach;
  const double density = p0 * std::pow(x, -3.5) / (air.rt / x);
  return density * mach * std::sqrt(1.4 * air.rt / x) * std::sqrt(air.temperature) / p0;
}

double isentropic_flow(double mach) { return mass_flow_parameter(mach) * area * p0 / std::sqrt(air.temperature); }

double static_pressure(double mach) { return p0 * std::pow(1.0 + 0.2 * mach * mach, -3.5); }

/// The greatest exit pressure at which the passage is choked.
double onset(const Passage& path) {
  return crossing([&](double p2) { return passage(path, {p0, p2}, air).dm_dp2 == 0.0 ? -1.0 : 1.0; }, 1.0, p0);
}

// 1e-4 in what follows: a passage without length counts as a thousandth of its bore long.
const Passage ideal{bore, 0.0, 0.0, 0.0};

}  // namespace

TEST_CASE("critical ratio and choked flow of the ideal nozzle", "[laws][literature]") {
  // NACA Report 1135 (1953): p*/p0 = 0.528282 at M = 1.
  CHECK_THAT(onset(ideal) / p0, WithinRel(0.528282, 1e-4));
  // Choked mass flow, found by maximising (value recomputed): 0.040415 for R = 287.05, 0.040418 for R = 287.
  const double constant = choked_flow(ideal, p0, air) * std::sqrt(air.temperature) / (area * p0);
  CHECK_THAT(constant, WithinRel(0.040415, 1e-4));
  CHECK_THAT(constant, WithinRel(0.040418, 2e-4));
  // Aperture to vacuum (Jousten's vacuum technology, ch. 4, recalled): 198.6 m/s, 19.86 L/(s cm2).
  CHECK_THAT(choked_flow(ideal, p0, air) * air.rt / (area * p0), WithinRel(198.6, 5e-4));
}

TEST_CASE("isentropic table", "[laws][literature]") {
  // Farokhi, Aircraft Propulsion, 2nd ed. (2014), App. B (M = 0.1 to 0.3); NACA 1135, Table I (0.5, 0.7; recalled).
  // M, A/A*, p0/p: the flow is A*/A of the choked one, and the table tells at which exit pressure it is reached.
  const double table[][3] = {{0.1, 5.8218, 1.0070},
                             {0.2, 2.9635, 1.0283},
                             {0.3, 2.0350, 1.0644},
                             {0.5, 1.3398, 1.0 / 0.8430},
                             {0.7, 1.0944, 1.0 / 0.7209}};
  const double choked = choked_flow(ideal, p0, air);
  for (const auto& [mach, ratio, pressures] : table) {
    const double wanted = choked / ratio;
    const double p2 = crossing([&](double p) { return wanted - passage(ideal, {p0, p}, air).m; }, 53e3, 99.99e3);
    CAPTURE(mach);
    CHECK_THAT(p0 / p2, WithinRel(pressures, 1.2e-4));  // both columns are rounded
  }
}

TEST_CASE("mass flow parameter", "[laws][literature]") {
  // Derivation after NASA Glenn's mass-flow page (formula read, value recomputed): the ideal nozzle's flow at the
  // static pressure of that Mach number.
  const double table[][2] = {{0.1, 0.006942}, {0.3, 0.019859}, {0.5, 0.030164}, {1.0, 0.040415}};
  for (const auto& [mach, parameter] : table) {
    const double m = passage(ideal, {p0, static_pressure(mach)}, air).m;
    CAPTURE(mach);
    CHECK_THAT(m * std::sqrt(air.temperature) / (area * p0), WithinRel(parameter, 1.5e-4));
  }
}

TEST_CASE("Fanno table", "[laws][literature]") {
  // Farokhi, App. E (66.922 and p/p* = 10.9435 read), others in public tables and by quadrature; f is Darcy's. Choked
  // passages without entrance loss: their length is that at which M1 has the row's value, their f L/D the table's.
  const double table[][2] = {{0.1, 66.9216}, {0.2, 14.5333}, {0.3, 5.29925}, {0.5, 1.06906}, {0.7, 0.20814}};
  const double pressures[][2] = {{0.1, 10.9435}, {0.2, 5.4554}, {0.5, 2.1381}};
  const auto length_at = [](double mach) {
    return crossing(
        [&](double length) {
          return isentropic_flow(mach) - choked_flow({bore, length, 0.0, 0.0}, p0, air);
        },
        1e-6, 100.0);
  };
  for (const auto& [mach, friction] : table) {
    const double length = length_at(mach);
    CAPTURE(mach, length);
    CHECK_THAT(friction_factor(isentropic_flow(mach)) * length / bore, WithinRel(friction, 1e-5 + 5e-6 / friction));
  }
  for (const auto& [mach, ratio] : pressures) {
    CAPTURE(mach);
    CHECK_THAT(static_pressure(mach) / onset({bore, length_at(mach), 0.0, 0.0}), WithinRel(ratio, 2e-5));
  }
}

TEST_CASE("Fanno pipe between two pressures", "[laws][literature]") {
  // Bar-Meir, Fundamentals of Compressible Fluid Mechanics (2007), Fanno flow, example with 4 f L/D = 40: ratio of
  // static pressures, M1, M2, five digits printed. The choked case: p2/p1 = 0.11637.
  const double table[][3] = {{0.3, 0.12420, 0.40790}, {0.5, 0.11392, 0.22697}, {0.8, 0.07975, 0.09965}};
  const auto mach_of = [](double flow) {
    return crossing([&](double mach) { return isentropic_flow(mach) - flow; }, 1e-6, 1.0);
  };
  for (const auto& [ratio, mach1, mach2] : table) {
    Passage path{bore, 40.0 * bore / 0.03, 0.0, 0.0};
    double p2 = ratio * p0;
    for (int i = 0; i < 200; ++i) {
      const double m = passage(path, {p0, p2}, air).m;
      path.length = 40.0 * bore / friction_factor(m);
      p2 = ratio * static_pressure(mach_of(m));
    }
    const double m = passage(path, {p0, p2}, air).m;
    CAPTURE(ratio);
    REQUIRE_THAT(friction_factor(m) * path.length / bore, WithinRel(40.0, 1e-9));
    CHECK_THAT(mach_of(m), WithinRel(mach1, 1e-4));
    // At the exit u = c^2/pe^2 = y (1 + 0.2 y) with c^2 = G^2 R T/gamma.
    const double u = m * m * air.rt / (1.4 * area * area * p2 * p2);
    CHECK_THAT(std::sqrt(2.0 * u / (1.0 + std::sqrt(1.0 + 0.8 * u))), WithinRel(mach2, 1e-4));
  }
  Passage path{bore, 40.0 * bore / 0.03, 0.0, 0.0};
  for (int i = 0; i < 200; ++i) path.length = 40.0 * bore / friction_factor(choked_flow(path, p0, air));
  const double mach = mach_of(choked_flow(path, p0, air));
  CHECK_THAT(mach, WithinRel(0.12728, 5e-5));
  CHECK_THAT(onset(path) / static_pressure(mach), WithinRel(0.11637, 1e-4));
}

TEST_CASE("isothermal duct limit", "[laws][literature]") {
  // Bar-Meir, isothermal flow (limit 1/sqrt(k) read, table recalled and recomputed): f L/D from M to the limit. Slip is
  // left out, as there.
  gas::Air plain = air;
  plain.slip = 0.0;
  const double table[][2] = {{0.1, 66.160}, {0.2, 13.975}, {0.3, 4.8650}, {0.5, 0.80732}};
  for (const auto& [mach, friction] : table) {
    const double m = mach * std::sqrt(1.4 / plain.rt) * p0 * area;
    const double length = crossing([&](double l) { return m - duct({bore, l}, {p0, 1.0}, plain).m; }, 1e-5, 100.0);
    CAPTURE(mach, length);
    CHECK_THAT(friction_factor(m) * length / bore, WithinRel(friction, 5e-5));
  }
}

TEST_CASE("isothermal pipe's mass flow", "[laws][literature]") {
  // White, Fluid Mechanics, ch. 9 (value recomputed; formula from memory): 2.5 mm, f L/D = 12, 100 to 40 kPa:
  // 84.95 kg/(m2 s), 0.41700 g/s. The length is such that Churchill's own f makes it 12 (0.03 times 1 m there).
  Duct path{2.5e-3, 1.0};
  double m = 0.0;
  for (int i = 0; i < 100; ++i) {
    m = duct(path, {100e3, 40e3}, air).m;
    const double re = reynolds(m, path.bore, air);
    path.length = 12.0 * path.bore * re / churchill(re, 0.0).g;
  }
  CHECK_THAT(m, WithinRel(0.41700e-3, 1e-4));
  CHECK_THAT(m / (0.25 * std::numbers::pi * path.bore * path.bore), WithinRel(84.95, 1e-4));
  CHECK_THAT(path.length, WithinRel(1.0, 0.02));
}
