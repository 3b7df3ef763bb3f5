// Facts of the trade, held on the invented lines. Common practice, no source: each says in numbers what people who keep
// such machines say in words, with room for what "far", "near" and "about" mean.
#include <catch2/catch.hpp>

#include "lines/lines.hpp"
#include "study/hold.hpp"
#include "study/rank.hpp"

using namespace airtally;
using solve::TipState;
using test::scenario;
using test::tip_vacuum;

TEST_CASE("a carrying or blocked tip pulls far deeper than an open one", "[lines][property]") {
  for (const char* name : {"jewel-setter", "jewel-setter-twist", "two-spindle-sorter"}) {
    CAPTURE(name);
    const line::Line line = scenario(name);
    const double open = tip_vacuum(line, TipState::open);
    CHECK(tip_vacuum(line, TipState::part) > 2.0 * open);
    CHECK(tip_vacuum(line, TipState::blocked) > 2.0 * open);
  }
  // Needles of 0.4 mm are fine enough for the pump to keep up: 10 to 50 kPa apart.
  const line::Line seeds = scenario("seed-tray");
  CHECK(tip_vacuum(seeds, TipState::blocked) > tip_vacuum(seeds, TipState::open) + 10e3);
}

TEST_CASE("from 0.5 to 2 mm a nozzle takes a small pump from near its ultimate vacuum to near nothing",
          "[lines][property]") {
  line::Line line = scenario("jewel-setter-twist");
  auto& bore = std::get<line::Bore>(test::element(line, "nozzle").restriction);
  const double ultimate = 71e3 * line.site.pressure / 101325.0;
  bore.bore = 0.5e-3;
  CHECK(tip_vacuum(line, TipState::open) > 0.7 * ultimate);
  bore.bore = 2e-3;
  CHECK(tip_vacuum(line, TipState::open) < 0.05 * ultimate);
}

TEST_CASE("a loose rotary joint costs more than all other elements together", "[lines][property]") {
  const line::Line line = scenario("jewel-setter");
  study::RankOptions quick;
  quick.settle_gains = false;
  const study::Ranking ranking = study::rank(line, solve::usual_tips(line), quick);
  const study::ElementCost& worst = ranking.elements.front();
  CHECK(line.elements[worst.element].name == "rotary joint");
  CHECK(worst.fair_share > ranking.total_loss - worst.fair_share);
  CHECK(worst.leak_share > 0.5);
}

TEST_CASE("with plain tube in the joint's place a 1 mm nozzle holds about half a gram", "[lines][property]") {
  const double tube = study::hold(scenario("jewel-setter-twist")).tips.front().heaviest;
  CHECK(tube > 0.4e-3);
  CHECK(tube < 0.6e-3);
  CHECK(study::hold(scenario("jewel-setter")).tips.front().heaviest < 0.7 * tube);
}
