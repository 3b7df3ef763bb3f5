#include <catch2/catch.hpp>
#include <cmath>

#include "laws/amplifier.hpp"
#include "laws/bridge.hpp"
#include "laws/detection.hpp"

using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

// General bridge equation read in a technical article; the equal-arm cases recomputed, six printed digits.
TEST_CASE("a bridge with one changed arm is half the change off its straight line", "[bridge][literature]") {
  const double x = 0.01;
  const double quarter = bridge_output({1.0, 1.0 + x, 1.0, 1.0});
  CHECK_THAT(quarter, WithinRel(2.48756e-3, 1e-5));
  CHECK_THAT(quarter, WithinRel(x / (4.0 + 2.0 * x), 1e-12));
  CHECK_THAT(1.0 - quarter / (x / 4.0), WithinAbs(0.005, 5e-5));
  CHECK_THAT(bridge_output({1.0 - x, 1.0 + x, 1.0 + x, 1.0 - x}), WithinRel(0.01, 1e-12));
}

// Textbook three-amplifier circuit with 25 kohm and 500 ohm: value recomputed; formula from memory.
TEST_CASE("25 kohm and 500 ohm make an instrumentation amplifier of 101", "[amplifier][literature]") {
  CHECK_THAT(instrumentation_gain(25e3, 500.0), WithinRel(101.0, 1e-12));
  // 80 dB at 2.5 V of common mode: 250 uV at the input.
  CHECK_THAT(2.5 / from_decibels(80.0), WithinRel(250e-6, 1e-12));
}

// Worked example and derivation read in a trade journal's tutorial: 3.3 V, 12 bit; four printed digits.
TEST_CASE("12 bits over 3.3 V step by 0.81 mV", "[amplifier][literature]") {
  const double step = adc_step(3.3, 12.0);
  CHECK_THAT(1e3 * step, WithinAbs(0.8057, 5e-5));
  CHECK_THAT(1e3 * rounding_noise(step), WithinAbs(0.2326, 5e-5));
  CHECK_THAT(best_ratio_decibels(12.0), WithinAbs(74.0, 0.05));
  CHECK_THAT(best_ratio_decibels(12.0), WithinAbs(6.02 * 12.0 + 1.76, 0.01));  // two rounded constants
}

// Recomputed: 10 bit over 5 V, a sensor of 4 V for 100 kPa.
TEST_CASE("10 bits over 5 V resolve 122 Pa of a 4 V sensor of 100 kPa", "[amplifier][literature]") {
  const double pascal = adc_step(5.0, 10.0) / (4.0 / 100e3);
  CHECK_THAT(pascal, WithinRel(122.07, 1e-4));
  CHECK_THAT(rounding_noise(pascal), WithinRel(35.24, 1e-4));
}

// Abramowitz and Stegun, table 26.1, from memory; six printed digits, recomputed by quadrature.
TEST_CASE("normal tails beyond 1, 2, 3 and 4 deviations", "[detection][literature]") {
  CHECK_THAT(upper_tail(1.0), WithinRel(0.158655, 1e-5));
  CHECK_THAT(upper_tail(2.0), WithinRel(0.0227501, 1e-5));
  CHECK_THAT(upper_tail(3.0), WithinRel(1.34990e-3, 1e-5));
  CHECK_THAT(upper_tail(4.0), WithinRel(3.16712e-5, 1e-5));
  CHECK_THAT(1e6 * upper_tail(4.0), WithinAbs(31.67, 5e-3));
}

// Standard tables (1.65 and 1.96 read), recomputed to six decimals.
TEST_CASE("normal quantiles", "[detection][literature]") {
  CHECK_THAT(deviations_for(0.05), WithinAbs(1.644854, 1e-6));
  CHECK_THAT(deviations_for(0.025), WithinAbs(1.959964, 1e-6));
  CHECK_THAT(deviations_for(0.005), WithinAbs(2.575829, 1e-6));
  CHECK_THAT(deviations_for(0.001), WithinAbs(3.090232, 1e-6));
}

// Detection theory, value recomputed by a minimiser: 20 +- 3 against 60 +- 6 kPa, equal weight; formula from memory.
TEST_CASE("best threshold between unequal scatters", "[detection][literature]") {
  const Scatter missed{20.0, 3.0}, held{60.0, 6.0};
  const double best = best_threshold(missed, held);
  CHECK_THAT(best, WithinAbs(33.643, 5e-4));
  const ErrorRates rates = error_rates(missed, held, best);
  CHECK_THAT(rates.false_above + rates.false_below, WithinRel(8.31e-6, 5e-3));
  CHECK_THAT(equal_error_threshold(missed, held), WithinAbs(33.33, 5e-3));
}

TEST_CASE("16 readings scatter by a quarter", "[detection][literature]") {
  CHECK_THAT(averaged(1.0, 16.0), WithinRel(0.25, 1e-12));
}
