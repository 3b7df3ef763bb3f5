#include "laws/amplifier.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "errors.hpp"
#include "laws/bridge.hpp"
#include "study/random.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("matched resistors amplify the difference and nothing else", "[amplifier][closed-form]") {
  const DifferenceAmplifier matched{10e3, 470e3, 10e3, 470e3};
  CHECK_THAT(difference_output(matched, 2.51, 2.50, 0.5), WithinRel(0.5 + 47.0 * 0.01, 1e-12));
  CHECK_THAT(difference_output(matched, 2.5, 2.5), WithinAbs(0.0, 1e-12));
}

TEST_CASE("the bridge's own resistance lowers the gain exactly as said", "[amplifier][closed-form]") {
  // A balanced bridge of four resistors r is, at each leg, a source of half the supply behind r/2.
  const double r = 5e3, in = 10e3, feedback = 470e3;
  const DifferenceAmplifier loaded{in + 0.5 * r, feedback, in + 0.5 * r, feedback};
  const double gain = difference_gain(in, feedback, bridge_resistance({r, r, r, r}));
  CHECK_THAT(difference_output(loaded, 2.51, 2.50), WithinRel(gain * 0.01, 1e-11));
  CHECK_THAT(gain, WithinRel(470.0 / 12.5, 1e-12));
}

// To first order in the tolerance: at 1e-5 the next order is 4e-5 of it.
TEST_CASE("the worst four resistors leave (1 + G)/(4 t) of rejection", "[amplifier][agreement]") {
  const double t = 1e-5;
  for (const double gain : {1.0, 10.0, 100.0}) {
    double worst = 0.0;
    for (int corner = 0; corner < 16; ++corner) {
      const auto off = [&](int bit) { return (corner >> bit & 1) != 0 ? 1.0 + t : 1.0 - t; };
      const DifferenceAmplifier a{off(0), gain * off(1), off(2), gain * off(3)};
      worst = std::max(worst, std::abs(difference_output(a, 1.0, 1.0)));
    }
    CAPTURE(gain);
    CHECK_THAT(gain / worst, WithinRel(difference_rejection(gain, t), 1e-4));
  }
}

// 40,000 builds: the standard deviation of a sample's standard deviation is 1/sqrt(2 n) = 0.35 %.
TEST_CASE("common-mode gain over many builds scatters as said", "[amplifier][agreement]") {
  study::Random random(7);
  const double t = 0.01, gain = 47.0;
  double sum = 0.0;
  const int builds = 40000;
  for (int i = 0; i < builds; ++i) {
    const auto off = [&] { return 1.0 + t * (2.0 * random.uniform() - 1.0); };
    const DifferenceAmplifier a{off(), gain * off(), off(), gain * off()};
    const double common = difference_output(a, 1.0, 1.0);
    sum += common * common;
  }
  CHECK_THAT(std::sqrt(sum / builds), WithinRel(difference_common_gain(gain, t), 0.015));
}

TEST_CASE("rails cut off and say so when crossed over", "[amplifier][property]") {
  CHECK(between(-1.0, {0.05, 3.2}) == 0.05);
  CHECK(between(9.0, {0.05, 3.2}) == 3.2);
  CHECK(between(1.0, {0.05, 3.2}) == 1.0);
  CHECK_THROWS_AS(between(1.0, {3.2, 0.05}), DomainError);
}

TEST_CASE("amplifier and bridge refuse what can't be built", "[amplifier][property]") {
  CHECK_THROWS_AS(bridge_output({0.0, 1.0, 1.0, 1.0}), DomainError);
  CHECK_THROWS_AS(difference_output({1.0, 0.0, 1.0, 1.0}, 0.0, 0.0), DomainError);
  CHECK_THROWS_AS(instrumentation_gain(1.0, 0.0), DomainError);
  CHECK_THROWS_AS(adc_step(3.3, 0.0), DomainError);
}
