// How often a held part is missed is the tail of the vacuum, not of the gap.
#include "study/sense_own_gap.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "laws/detection.hpp"
#include "lines/lines.hpp"
#include "solve/answer.hpp"
#include "study/sense.hpp"

using namespace airtally;
using namespace airtally::study;
using Catch::Matchers::WithinRel;

namespace {

/// Share of held parts that read below `on` [Pa]: Simpson's rule over the gap's own bell curve, every line solved from
/// nothing as `steady` does, a normal scatter `noise` [Pa] on top.
double missed(line::Line line, std::size_t at, double on, double noise) {
  const double middle = line.part->gap.value, deviation = line.part->gap.standard_deviation();
  constexpr int points = 480;
  constexpr double reach = 8.0, step = 2.0 * reach / points;
  double sum = 0.0;
  for (int i = 0; i <= points; ++i) {
    const double z = -reach + i * step;
    line.part->gap = std::max(middle + z * deviation, 1e-9);
    const double vacuum = solve::steady(line, solve::usual_tips(line)).elements.at(at).vacuum;
    const double weight = i == 0 || i == points ? 1.0 : i % 2 == 1 ? 4.0 : 2.0;
    sum += weight * std::exp(-0.5 * z * z) * laws::upper_tail((vacuum - on) / noise);
  }
  return sum * step / 3.0 / std::sqrt(2.0 * std::numbers::pi);
}

}  // namespace

// What goes by a close gap rises with its cube, so the vacuum has a long tail downwards. Within a tenth of a deviation
// the gap is taken to be anywhere: at z deviations that is z/20 of the share at most, a fifth of it at 4.
TEST_CASE("a set point far below a part's vacuum misses as many as the gap's own tail", "[sense][agreement]") {
  line::Line line = test::scenario("ejector-head");
  const std::size_t at = sensor_place(line);
  line.sensor->accuracy = 0.0;
  for (const double on : {80.9e3, 80.4e3, 80.0e3, 79.0e3}) {
    CAPTURE(on);
    line.sensor->ready_made->on = on;
    const Sense sense = study::sense(line);
    const double truth = missed(line, at, on, line.sensor->noise.value);
    INFO(truth);
    CHECK(truth > 1e-9);
    CHECK_THAT(sense.computed.false_below, WithinRel(truth, 0.2));
  }
}
