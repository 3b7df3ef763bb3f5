// A sensor on a shared rail feels the gaps of all parts.
#include "study/sense_neighbours.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "lines/lines.hpp"
#include "read/line_file.hpp"
#include "solve/answer.hpp"
#include "study/sense.hpp"
#include "study/sense_own_gap.hpp"

using namespace airtally;
using namespace airtally::study;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using solve::TipState;

namespace {

/// Needles on one rail with a sensor.
line::Line rail(int needles, const std::string& gap) {
  std::string text = R"(format = 1
[part]
mass = "6 mg"
gap = ")" + gap + R"("
[sensor]
at = "rail"
range = "100 kPa"
span = "100 mV"
excitation = "5 V"
noise = "30 Pa"
amplifier = { kind = "instrumentation", gain = 25 }
adc = { bits = 12, reference = "3.3 V" }
[[element]]
name = "pump"
kind = "pump"
curve = [["0 kPa","60 L/min"],["30 kPa","36 L/min"],["60 kPa","12 L/min"],["80 kPa","0 L/min"]]
[[element]]
name = "rail"
kind = "tee"
volume = "40 mL"
)";
  for (int k = 1; k <= needles; ++k)
    text += "[[element]]\nname = \"needle " + std::to_string(k) +
            "\"\nkind = \"nozzle\"\nbore = \"0.35 mm\"\nlength = \"15 mm\"\nrim = \"0.8 mm\"\nafter = \"rail\"\n";
  return read::read_line_text(text, "rail.toml");
}

}  // namespace

// 4000 lines, each part's gap drawn by itself: the deviation found scatters by 1/sqrt(2 * 4000) = 1.1 %, the mean by
// 1/sqrt(4000) = 1.6 % of the deviation; three of these, and 3 % for what the gaps do together beyond their sum.
TEST_CASE("the neighbours' spread and shift are what drawing their gaps gives", "[sense][agreement]") {
  std::mt19937 random(11);  // NOLINT(cert-msc51-cpp): the same draws every time
  std::uniform_real_distribution<double> range(10e-6, 35e-6);
  std::normal_distribution<double> tolerance(22.5e-6, 3e-6);
  for (const bool normal : {false, true}) {
    const line::Line line = rail(8, normal ? "22.5 +- 6 um" : "10..35 um");
    const line::Topology topology = line::topology(line);
    for (const TipState own : {TipState::open, TipState::part}) {
      CAPTURE(normal, own == TipState::open);
      std::vector<TipState> tips(8, TipState::part);
      tips[0] = own;
      solve::Network network(line, topology, tips);
      solve::Steady steady(network);
      solve::Pressures middle;
      steady.solve(network, middle);
      const Neighbours found = neighbours_of(line, network, 0, middle);
      constexpr int draws = 4000;
      const int node = network.node_of[1];
      double sum = 0.0, squares = 0.0;
      for (int i = 0; i < draws; ++i) {
        for (std::size_t k = 1; k < 8; ++k) set_gap(network, k, normal ? tolerance(random) : range(random));
        solve::Pressures x = middle;
        steady.resolve(network, x);
        const double moved = middle.p[node] - x.p[node];
        sum += moved;
        squares += moved * moved;
      }
      const double mean = sum / draws, deviation = std::sqrt(squares / draws - mean * mean);
      CHECK_THAT(found.spread[1], WithinRel(deviation, 3 * 0.011 + 0.03));
      CHECK_THAT(found.shift[1], WithinAbs(mean, 3 * 0.016 * deviation + 0.03 * std::abs(mean)));
      CHECK(found.alike[1] > 2.0 * found.spread[1]);
    }
  }
}

TEST_CASE("a nozzle without neighbours, or with exact ones, has no spread of theirs", "[sense][property]") {
  const NeighboursFelt alone = study::sense(test::scenario("jewel-setter")).neighbours;
  const NeighboursFelt exact = study::sense(rail(8, "20 um")).neighbours;
  for (const NeighboursFelt& none : {alone, exact}) {
    CHECK(none.spread == 0.0);
    CHECK(none.spread_open == 0.0);
    CHECK(none.shift == 0.0);
    CHECK(none.alike == 0.0);
  }
}

// One empty needle of 24 moves the rail by less than two deviations of what 23 parts do: with these held exact a missed
// part passed for held less than once in a million.
TEST_CASE("parts of unlike gaps hide one that is missed", "[sense][property]") {
  const Sense sense = study::sense(rail(24, "10..35 um"));
  CHECK_FALSE(sense.tells);
  CHECK(sense.taught.false_above > 0.05);
  CHECK(sense.taught.false_below > 0.05);
  CHECK(sense.separation < 2.0);
  CHECK_THAT(sense.neighbours.spread, WithinRel(std::sqrt(23.0) * sense.gap_spread, 0.05));
  CHECK_THAT(sense.neighbours.spread_open, WithinRel(sense.neighbours.spread, 0.1));
  // Each state's scatter has them.
  for (const SensedState& state : sense.states) CHECK(state.deviation > sense.neighbours.spread_open * 0.99);
  // The threshold stands between the means.
  CHECK(sense.threshold < sense.states[2].reading.vacuum);
  CHECK(sense.threshold > sense.states[0].reading.vacuum);
  const auto steady = solve::steady(rail(24, "22.5 um"), std::vector<TipState>(24, TipState::part));
  CHECK_THAT(sense.states[2].reading.vacuum, WithinAbs(steady.elements[1].vacuum + sense.neighbours.shift, 1.0));
  // A needle alone, or parts that are alike, it tells.
  CHECK(study::sense(rail(1, "10..35 um")).tells);
  CHECK(study::sense(rail(24, "22..23 um")).tells);
}
