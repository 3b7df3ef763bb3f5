// What is stated as a range has ends: no set point is judged by a tail beyond them.
#include "study/sense_bounded.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "lines/lines.hpp"
#include "read/line_file.hpp"
#include "solve/answer.hpp"
#include "solve/steady.hpp"
#include "study/sense.hpp"
#include "study/sense_decide.hpp"
#include "study/sense_own_gap.hpp"

using namespace airtally;
using namespace airtally::study;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Cups on one rail with a switch there, gaps from `low` to `high`.
line::Line cups(int count, const std::string& gap, const std::string& on) {
  std::string text = R"(format = 1
[part]
mass = "6 mg"
gap = ")" + gap + R"("
[sensor]
at = "rail"
noise = "300 Pa"
accuracy = "1 kPa"
switch = { on = ")" + on +
                     R"(", hysteresis = "2 kPa" }
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa","20 L/min"],["30 kPa","12 L/min"],["60 kPa","4 L/min"],["80 kPa","0 L/min"]]
[[element]]
name = "rail"
kind = "tee"
volume = "4 mL"
)";
  for (int k = 1; k <= count; ++k)
    text += "[[element]]\nname = \"cup " + std::to_string(k) +
            "\"\nkind = \"nozzle\"\nbore = \"4 mm\"\nlength = \"5 mm\"\nrim = \"6 mm\"\nafter = \"rail\"\n";
  return read::read_line_text(text, "cups.toml");
}

}  // namespace

TEST_CASE("a range between normal scatter errs as the integral over it", "[sense][closed-form]") {
  // Without normal scatter to speak of: what lies beyond the threshold of the range itself.
  const BoundedScatter sharp{{10e3, 1e-3}, {{-4e3, 6e3, 1.0}}};
  CHECK_THAT(share_below(sharp, 7e3), WithinRel(0.1, 1e-9));
  CHECK_THAT(share_above(sharp, 11e3), WithinRel(0.5, 1e-9));
  CHECK(share_below(sharp, 5.99e3) == 0.0);
  CHECK(deviations_above(sharp, 5.99e3) > 9e3);
  // With it: the mean of the tail, here by 20,000 points of the trapezoidal rule.
  const BoundedScatter wide{{10e3, 500.0}, {{-4e3, -1e3, 0.25}, {-1e3, 6e3, 0.75}}};
  for (const double t : {3e3, 5e3, 6e3, 9.5e3, 15e3, 17e3}) {
    double sum = 0.0;
    constexpr int points = 20'000;
    for (const Stretch& stretch : wide.about)
      for (int i = 0; i < points; ++i) {
        const double v = 10e3 + stretch.from + (stretch.to - stretch.from) * (i + 0.5) / points;
        sum += stretch.share / points * laws::upper_tail((v - t) / 500.0);
      }
    CHECK_THAT(share_below(wide, t), WithinRel(sum, 1e-5));
    CHECK_THAT(share_below(wide, t) + share_above(wide, t), WithinRel(1.0, 1e-9));
    CHECK_THAT(laws::upper_tail(deviations_above(wide, t)), WithinRel(sum, 1e-5));
  }
  // Too seldom for any number, still ordered and finite.
  CHECK(deviations_above(wide, -100e3) > deviations_above(wide, -90e3));
  CHECK_THAT(deviations_above(wide, -100e3), WithinRel((106e3) / 500.0, 0.01));
  CHECK_THAT(threshold_below(wide, deviations_above(wide, 5e3)), WithinAbs(5e3, 1e-3));
  CHECK_THAT(threshold_above(wide, deviations_below(wide, 17e3)), WithinAbs(17e3, 1e-3));
  // Nothing bounded, and a range too narrow to matter: as if it were normal.
  const BoundedScatter none{{10e3, 500.0}}, narrow{{10e3, 500.0}, {{-0.01, 0.01, 1.0}}};
  const BoundedScatter other{{20e3, 700.0}}, narrow_other{{20e3, 700.0}, {{-0.01, 0.01, 1.0}}};
  CHECK_THAT(separation(narrow, narrow_other), WithinRel(separation(none, other), 1e-6));
  CHECK_THAT(best_threshold(narrow, narrow_other), WithinAbs(best_threshold(none, other), 0.1));
}

// 100,000 sums of ranges drawn: 3 in 1000 of them scatter by 6 % of their number, one in twenty by 1.4 %. The shape has
// the variance, the flatness and the ends of the sum, not its every share: a tenth is left for that.
TEST_CASE("several ranges together have the tail of their sum, and its ends", "[sense][agreement]") {
  std::mt19937 random(5);  // NOLINT(cert-msc51-cpp): the same draws every time
  std::uniform_real_distribution<double> range(-1.0, 1.0);
  for (const int count : {1, 2, 3, 8}) {
    CAPTURE(count);
    constexpr int draws = 100'000;
    std::vector<double> sums(draws);
    for (double& sum : sums) {
      sum = 0.0;
      for (int i = 0; i < count; ++i) sum += 1e3 * range(random);
    }
    std::sort(sums.begin(), sums.end());
    const Stretches found = sum_of_ranges(1e3 * std::sqrt(count / 3.0), 1e3 * count, count);
    for (const Stretch& stretch : found) CHECK(std::max(-stretch.from, stretch.to) <= 1e3 * count * (1.0 + 1e-12));
    const BoundedScatter all{{0.0, 1.0}, found};
    CHECK_THAT(share_below(all, sums[draws / 20]), WithinRel(0.05, 0.1 + 3 * 0.014));
    // So far out two ranges, whose density falls to nothing in a straight line, come out half as likely again as they
    // are, which errs on the safe side.
    const double far_out = share_below(all, sums[3 * draws / 1000]);
    CHECK(far_out > 3e-3 * (1.0 - 3 * 0.06));
    CHECK(far_out < 4.5e-3 * (1.0 + 3 * 0.06));
  }
}

// 8000 picks with the set point where one in some misses: shares of a fifth scatter by 0.45 %; three of these.
TEST_CASE("a switch in a wide range errs as often as parts drawn from it", "[sense][agreement]") {
  std::mt19937 random(3);  // NOLINT(cert-msc51-cpp): the same draws every time
  std::normal_distribution<double> normal;
  for (const int count : {1, 3}) {
    CAPTURE(count);
    line::Line line = cups(count, "15..40 um", "20 kPa");
    const Sense first = study::sense(line);
    const double leaking = first.states[3].reading.vacuum, part = first.states[2].reading.vacuum;
    line.sensor->ready_made->on = leaking + 0.3 * (part - leaking);
    const Sense sense = study::sense(line);
    std::uniform_real_distribution<double> range(15e-6, 40e-6);
    const line::Topology topology = line::topology(line);
    solve::Network network(line, topology, solve::all_tips(line, solve::TipState::part));
    solve::Steady steady(network);
    solve::Pressures x;
    steady.solve(network, x);
    constexpr int draws = 8000;
    int missed = 0;
    for (int i = 0; i < draws; ++i) {
      for (int k = 0; k < count; ++k) set_gap(network, static_cast<std::size_t>(k), range(random));
      steady.resolve(network, x);
      const double vacuum = network.ambient - x.p[network.node_of[1]];
      const double felt = vacuum + std::hypot(300.0, 500.0) * normal(random);
      missed += felt < line.sensor->ready_made->on.value ? 1 : 0;
    }
    const double share = static_cast<double>(missed) / draws;
    INFO(share);
    CHECK(share > 0.05);
    CHECK_THAT(sense.computed.false_below, WithinAbs(share, 3 * 0.0045 + 0.1 * share * (count > 1 ? 1.0 : 0.0)));
  }
}

TEST_CASE("a set point below all of a wide range misses none", "[sense][property]") {
  line::Line line = cups(1, "15..40 um", "20 kPa");
  const Sense probe = study::sense(line);
  const double leaking = probe.states[3].reading.vacuum, open = probe.states[0].reading.vacuum;
  line.sensor->ready_made->on = 0.5 * (leaking + open);
  line.sensor->ready_made->hysteresis = 0.1 * (leaking - open);
  const Sense sense = study::sense(line);
  CHECK(sense.tells);
  CHECK(sense.computed.false_below < 1e-9);
  // The worst part alone is told less well, but as well as that goes.
  line::Line worst = line;
  worst.part->gap = line.part->gap.high;
  const Sense alone = study::sense(worst);
  CHECK(alone.tells);
  CHECK(sense.separation >= alone.separation * 0.999);
  CHECK(sense.separation < alone.separation * 1.2);
  // What a tolerance says of the gap still has a tail.
  line::Line tolerance = line;
  tolerance.part->gap = units::Quantity::normal(27.5e-6, 12.5e-6);
  CHECK(study::sense(tolerance).computed.false_below > sense.computed.false_below);
  // Set as advised it tells too, nearer the part than the worst one lets it.
  REQUIRE(sense.points->best_on);
  CHECK(*sense.points->best_on < leaking);
  CHECK(*sense.points->most_hysteresis > 0.2 * (leaking - open));
}

TEST_CASE("an amplified sensor knows of the ends of a range as a switch does", "[sense][agreement]") {
  line::Line line = cups(1, "15..40 um", "20 kPa");
  line::Line ideal = line;
  line::Sensor& bridge = *ideal.sensor;
  bridge.ready_made.reset();
  bridge.span = 0.1;
  bridge.amplifier.kind = line::FrontEnd::instrumentation;
  bridge.amplifier.gain = 10.0;
  bridge.amplifier.bias = 0.5;
  bridge.adc.bits = 32;
  bridge.accuracy = 0.0;
  const Sense threshold = study::sense(ideal);
  line.sensor->accuracy = 0.0;
  line.sensor->ready_made = line::VacuumSwitch{threshold.threshold, 0.0, 0.0};
  const Sense sense = study::sense(line);
  CHECK(threshold.tells);
  CHECK(sense.tells);
  CHECK_THAT(sense.points->best_on.value(), WithinRel(threshold.threshold, 1e-3));
  for (std::size_t k = 0; k < sense.places.size(); ++k)
    CHECK_THAT(sense.places[k].separation, WithinRel(threshold.places[k].separation, 1e-3));
}
