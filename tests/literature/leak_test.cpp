// Leak paths against published formulas and worked cases.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "laws/conductance.hpp"
#include "laws/duct.hpp"
#include "laws/rated.hpp"
#include "laws/slot.hpp"
#include "support/air.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

using support::air;

gas::Air without_slip() {
  gas::Air other = air;
  other.slip = 0.0;
  return other;
}

double free_ml_per_min(double m) { return m / gas::free_air_density * 60e6; }

}  // namespace

TEST_CASE("a thin annulus against the exact one", "[laws][literature]") {
  // White, Fluid Mechanics, problem of a narrow annulus: radii 50 and 49 mm, 1 m long, 1e-3 m3/s at 250 kPa give a
  // viscosity of 0.00648 Pa s by the exact formula (value recomputed; three digits, so 8e-4). Volume flow at the mean
  // pressure of our gas law equals that of a liquid.
  const gas::Air oil{293.15, air.rt, 0.00648, 0.0};
  const Flow flow = clearance({1e-3, 99e-3, 1.0, 0.0}, {350e3, 100e3}, oil);
  CHECK_THAT(flow.m * oil.rt / 225e3, WithinRel(1e-3, 1e-3));
}

TEST_CASE("eccentricity is the mean of the gap's cube", "[laws][literature]") {
  // Tao and Donovan, Trans. ASME 77 (1955) 1291 (factor read in public code): 1 + 1.5 e^2, so 1, 1.375, 2.5; here
  // against the mean of (1 + e cos t)^3, which equally spaced points give exactly.
  const Ends ends{100e3, 100e3 - 1.0};  // heads, which go with the square of the flow, take nothing
  const double concentric = clearance({10e-6, 6e-3, 10e-3, 0.0}, ends, without_slip()).m;
  const double table[][2] = {{0.0, 1.0}, {0.5, 1.375}, {1.0, 2.5}};
  for (const auto& [e, factor] : table) {
    double mean = 0.0;
    for (int i = 0; i < 12; ++i) mean += std::pow(1.0 + e * std::cos(i * std::numbers::pi / 6.0), 3) / 12.0;
    const double ratio = clearance({10e-6, 6e-3, 10e-3, e}, ends, without_slip()).m / concentric;
    CHECK_THAT(ratio, WithinRel(factor, 1e-7));
    CHECK_THAT(ratio, WithinRel(mean, 1e-7));
  }
}

TEST_CASE("a rotary joint's clearance", "[laws][literature]") {
  // Compressible laminar slot (value recomputed; formula from memory, without slip): 6 mm shaft, 10 um radial gap, 10
  // mm long, 100 to 30 kPa. Heads, which the formula leaves out, take 0.03 % of it.
  Clearance joint{10e-6, 6e-3, 10e-3, 0.0};
  const Ends ends{100e3, 30e3};
  const double m = clearance(joint, ends, without_slip()).m;
  CHECK_THAT(m, WithinRel(4.684e-7, 1e-3));
  CHECK_THAT(free_ml_per_min(m), WithinRel(23.7, 3e-3));
  CHECK_THAT(clearance_reynolds(joint, m, air), WithinRel(2.74, 3e-3));
  joint.eccentricity = 1.0;
  CHECK_THAT(free_ml_per_min(clearance(joint, ends, without_slip()).m), WithinRel(59.3, 3e-3));
  const Ends slow{100e3, 100e3 - 1.0};
  const double thin = clearance({10e-6, 6e-3, 10e-3, 0.0}, slow, without_slip()).m;
  CHECK_THAT(clearance({20e-6, 6e-3, 10e-3, 0.0}, slow, without_slip()).m, WithinRel(8.0 * thin, 1e-5));
}

TEST_CASE("slip at 65 kPa", "[laws][literature]") {
  // Text-book first-order slip (value recomputed): 1 + 6 Kn = 1.061 for a 10 um gap, 1 + 8 Kn = 1.0081 for a 0.1 mm
  // bore. The duct is long, so that the head of speeding up, which slip raises too, does not show.
  const Ends ends{65.5e3, 64.5e3};
  const Clearance joint{10e-6, 6e-3, 10e-3, 0.0};
  CHECK_THAT(clearance(joint, ends, air).m / clearance(joint, ends, without_slip()).m, WithinRel(1.061, 1e-3));
  const FaceGap gap{10e-6, 6e-3, 10e-3};
  CHECK_THAT(face_gap(gap, ends, air).m / face_gap(gap, ends, without_slip()).m, WithinRel(1.061, 1e-3));
  const Duct bore{0.1e-3, 1.0};
  CHECK_THAT(duct(bore, ends, air).m / duct(bore, ends, without_slip()).m, WithinRel(1.0081, 1e-4));
}

TEST_CASE("a face gap", "[laws][literature]") {
  // Zuk et al., NASA TN D-6668 (1972) (value recomputed; formula from memory, without slip): 10 um between radii 6 and
  // 10 mm, from 100 to 30 kPa. The head at the inner radius, which it leaves out, takes 0.2 %.
  const FaceGap gap{10e-6, 6e-3, 10e-3};
  const double m = face_gap(gap, {100e3, 30e3}, without_slip()).m;
  CHECK_THAT(m, WithinRel(3.057e-6, 2.5e-3));
  CHECK_THAT(free_ml_per_min(m), WithinRel(154.8, 2.5e-3));
  // Second route: the same flow through 4,000 thin rings in turn, each with d(p^2) = 24 mu R T m dr/(2 pi r h^3).
  double p_squared = 30e3 * 30e3;
  const int rings = 4000;
  for (int i = 0; i < rings; ++i) {
    const double width = 4e-3 / rings;
    const double r = 6e-3 + (i + 0.5) * width;
    p_squared += 12.0 * air.viscosity * air.rt * m * width / (std::numbers::pi * r * std::pow(gap.gap, 3));
  }
  const double speed = m / (2.0 * std::numbers::pi * 6e-3 * gap.gap);  // [kg/(s m2)]
  p_squared += 27.0 / 35.0 * air.rt * speed * speed * (1.0 + 100.0 / 30.0);
  CHECK_THAT(std::sqrt(p_squared), WithinRel(100e3, 1e-6));
}

TEST_CASE("the signature of a leak's law", "[laws][literature]") {
  // Value recomputed: outside 100 kPa, inside 70 then 20 kPa; the flow grows by 1.882 (laminar) or 1.073 (orifice).
  const double k = 1e-16;
  const double laminar = rated({k}, {100e3, 20e3}).m / rated({k}, {100e3, 70e3}).m;
  CHECK_THAT(laminar, WithinRel(1.882, 1e-3));
  const Conductance orifice = hole(0.1e-3);
  const double sharp = conductance(orifice, {100e3, 20e3}, air).m / conductance(orifice, {100e3, 70e3}, air).m;
  CHECK_THAT(sharp, WithinRel(1.073, 1e-3));
}

TEST_CASE("leak of a hole into vacuum", "[laws][literature]") {
  // Choked flow with Cd = 1 at one atmosphere and 20 C (value recomputed): 158, 1.58 and 0.0158 mbar L/s for 1, 0.1 and
  // 0.01 mm. 0.3 %: three digits printed. A public table of leak sizes has 1e2, 1 and 1e-2 for them.
  const double table[][3] = {{1e-3, 158.0, 1e2}, {0.1e-3, 1.58, 1.0}, {0.01e-3, 0.0158, 1e-2}};
  for (const auto& [diameter, mbar_l_s, order] : table) {
    const double throughput = conductance(hole(diameter, 1.0), {101325.0, 1.0}, air).m * air.rt * 10.0;
    CHECK_THAT(throughput, WithinRel(mbar_l_s, 3e-3));
    CHECK(throughput > 0.5 * order);
    CHECK(throughput < 2.0 * order);
  }
}

TEST_CASE("the default discharge coefficient lies between those measured", "[laws][literature]") {
  // Weisbach's values for air through sharp edges, 0.563 to 0.788 (Encyclopaedia Britannica, 11th ed., Hydraulics,
  // sec. 63); a fit to Perry, Trans. ASME 71 (1949) 757, gives 0.600 at small drop and 0.737 at the critical ratio.
  const double cd = hole(1e-3).c / hole(1e-3, 1.0).c;
  CHECK(cd > 0.600);
  CHECK(cd < 0.737);
}
