#include "study/pumps.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "errors.hpp"
#include "gas/site.hpp"
#include "laws/pump_curve.hpp"
#include "line/curves.hpp"
#include "line/variant.hpp"
#include "lines/lines.hpp"
#include "read/others_file.hpp"
#include "read/stock.hpp"
#include "study/cycle.hpp"
#include "study/duty.hpp"
#include "study/hold.hpp"
#include "study/need.hpp"
#include "study/question_pumps.hpp"
#include "study/required_private.hpp"
#include "study/rise.hpp"
#include "support/lines.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using study::Grasp;

namespace {

std::vector<line::Element> stock() {
  return read::read_stock({AIRTALLY_LINES "/catalogue"}, {line::Kind::pump, line::Kind::ejector}, 101325.0);
}

/// Flow that a pump's curve gives at that vacuum, both as read at 101,325 Pa and 20 C.
double curve_at(const line::Element& pump, double vacuum) {
  return laws::PumpCurve(line::law_points(pump.pump->flow), gas::Site{}).at(gas::Site{}.pressure - vacuum).m;
}

/// A line on which the weaker pumps of the catalogue fail: a part that takes much vacuum.
line::Line heavy() {
  line::Line line = test::scenario("jewel-setter");
  line.part->mass = units::Quantity(0.3e-3);
  return line;
}

/// A small nozzle near the pump and a big one at the end of a narrow, leaky hose: the small one needs and has much
/// more.
line::Line unequal_nozzles() {
  support::Builder b;
  b.pump("pump", {{0.0, 0.5}, {8e3, 0.0}}).tee("tee").nozzle("small", 0.3e-3, 3e-3, 0.6e-3);
  b.tube("hose", 0.3e-3, 1.0).after("tee").leak(support::rated(0.2)).nozzle("big", 2e-3, 3e-3, 3e-3);
  b.part(10e-6, 4e-6);
  b.line.move.emplace().lift = 5.0;
  return b.line;
}

}  // namespace

TEST_CASE("every pump's numbers are those of the line with it", "[study][property]") {
  const line::Line line = test::scenario("jewel-setter");
  study::PumpsOptions options;
  options.stock = stock();
  const study::Pumps pumps = study::pumps(line, options);
  REQUIRE(pumps.tries.size() == options.stock.size() + 1);
  CHECK(pumps.tries[0].own);
  CHECK_THAT(pumps.tries[0].vacuum_part, WithinAbs(test::tip_vacuum(line, solve::TipState::part), 1e-3));
  for (std::size_t i = 0; i < options.stock.size(); ++i) {
    line::Line with = line;
    line::Element& pump = test::element(with, "pump");
    pump.pump = options.stock[i].pump;
    pump.volume = options.stock[i].volume;
    pump.kind = options.stock[i].kind;
    const study::PumpTry& one = pumps.tries[i + 1];
    CAPTURE(one.name);
    CHECK_THAT(one.vacuum_open, WithinAbs(test::tip_vacuum(with, solve::TipState::open), 1e-3));
    CHECK_THAT(one.vacuum_blocked, WithinAbs(test::tip_vacuum(with, solve::TipState::blocked), 1e-3));
    CHECK_THAT(one.margin, WithinAbs(study::hold(with).tips.front().margin, 1e-3));
    CHECK((one.margin_high < one.margin));
    if (one.margin_sagging) CHECK((*one.margin_sagging <= one.margin));
    CHECK(one.ejector == (options.stock[i].kind == line::Kind::ejector));
    CHECK(one.current_part.has_value() == !options.stock[i].pump->current.empty());
  }
}

// The line takes more flow the deeper its pump pulls, and a pump's curve falls: the working point lies beyond the
// needed one just when the curve passes above it.
TEST_CASE("a pump holds the part just when its curve passes above the point required", "[study][closed-form]") {
  const line::Line line = heavy();
  study::PumpsOptions options;
  options.stock = stock();
  const study::Pumps pumps = study::pumps(line, options);
  REQUIRE(pumps.hold_possible);
  int held = 0, lost = 0;
  for (std::size_t i = 0; i < pumps.tries.size(); ++i) {
    const line::Element& pump = i == 0 ? line.elements.front() : options.stock[i - 1];
    CAPTURE(pumps.tries[i].name);
    const bool above = curve_at(pump, pumps.hold.vacuum) > pumps.hold.flow;
    CHECK(above == (pumps.tries[i].margin > 0.0));
    (above ? held : lost) += 1;
  }
  CHECK(held > 0);
  CHECK(lost > 0);
}

TEST_CASE("a pump whose curve runs through the required point holds with nothing to spare", "[study][closed-form]") {
  line::Line line = heavy();
  const auto point = study::required_to_hold(line, 0, study::needs_of_moves(line)).value();
  line::Element& pump = line.elements.front();
  pump.pump->flow = {{units::Quantity(0.0), units::Quantity(3.0 * point.flow)},
                     {units::Quantity(point.vacuum), units::Quantity(point.flow)},
                     {units::Quantity(point.vacuum * 1.3), units::Quantity(0.0)}};
  CHECK_THAT(study::hold(line).tips.front().margin, WithinAbs(0.0, 2.0));
}

TEST_CASE("every nozzle is held to its own need", "[study][closed-form]") {
  line::Line line = unequal_nozzles();
  const std::vector<double> needs = study::needs_of_moves(line);
  REQUIRE(needs.size() == 2);
  // The same force on mouths of unequal size.
  CHECK_THAT(needs[0] / needs[1], WithinRel(4.0 / 0.09, 1e-9));
  const auto with_part = solve::steady(line, solve::usual_tips(line));
  REQUIRE(with_part.tips[1].tip_vacuum() < needs[0]);  // what the small one needs, the big one never has
  CHECK(study::weakest_tip(with_part) == 1);
  CHECK(study::weakest_tip(with_part, needs) == 1);
  CHECK_THAT(study::least_spare(with_part, needs), WithinRel(with_part.tips[1].tip_vacuum() - needs[1], 1e-12));

  const study::PumpTry own = study::pumps(line, {}).tries.front();
  CHECK(own.does());
  REQUIRE(own.reach);
  REQUIRE(own.duty);
  CHECK((*own.duty > 0.0 && *own.duty < 1.0));
  line.elements.front().pump->speed = *own.duty;
  CHECK_THAT(study::least_spare(solve::steady(line, solve::usual_tips(line)), needs), WithinAbs(0.0, 10.0));
  line.elements.front().pump->speed = 1.0;
  const auto point = study::required_to_hold(line, 0, needs).value();
  line.elements.front().pump->flow = {{units::Quantity(0.0), units::Quantity(3.0 * point.flow)},
                                      {units::Quantity(point.vacuum), units::Quantity(point.flow)},
                                      {units::Quantity(point.vacuum * 1.3), units::Quantity(0.0)}};
  const study::Hold held = study::hold(line);
  CHECK_THAT(held.tips.at(held.weakest).margin, WithinAbs(0.0, 2.0));
}

TEST_CASE("a pump lifts and runs at the widest gap, by which it holds", "[study][property]") {
  line::Line line = heavy();
  line.part->gap = units::Quantity::uniform(2e-6, 7e-6);
  const study::PumpTry unsure = study::pumps(line, {}).tries.front();
  const study::PumpTry wide = study::pumps(line::at_widest_gap(line), {}).tries.front();
  REQUIRE(unsure.duty);
  CHECK(unsure.duty == wide.duty);
  CHECK(unsure.reach == wide.reach);
  CHECK(unsure.margin == wide.margin);
  CHECK(unsure.settle != wide.settle);  // that of the gap in the file, as rise has it
}

TEST_CASE("a pump runs as little as the line's others leave to it", "[study][property]") {
  support::Builder b;
  b.pump("pump", {{0.0, 6.0}, {60e3, 0.0}}).tube("hose", 2e-3, 0.5).leak(support::rated(0.002)).tee("tee");
  b.nozzle("nozzle", 0.5e-3, 3e-3, 1e-3);
  b.pump("other", {{0.0, 6.0}, {70e3, 0.0}}).tube("its hose", 2e-3, 0.5).joins("tee");
  b.part(10e-6, 12e-6);
  const std::vector<double> little{5e3}, much{60.5e3};
  CHECK(study::pump_duty(b.line, little, 0) == 0.0);
  CHECK(study::pump_duty(b.line, little).value() > 0.0);
  // Beyond what the first can pull, all hangs on the other.
  CHECK(study::pump_duty(b.line, much, 0) == 0.0);
  CHECK(study::pump_duty(b.line, much, 4).value() > 0.0);
}

TEST_CASE("a pump of the required constant speed lifts in just the time allowed", "[study][closed-form]") {
  const line::Line line = heavy();
  const std::vector<double> needs = study::needs_of_moves(line);
  const double time = 0.3;
  const double flow = study::required_in_time(line, 0, needs, time, study::few_pieces).value();
  // At the widest gap, as the hold is judged: of a part that may lie 6 um off, not the 4 um at best estimate.
  line::Line with = line::at_widest_gap(line);
  CHECK(with.part->gap.value > 1.4 * line.part->gap.value);
  with.elements.front().pump->flow = {{units::Quantity(0.0), units::Quantity(flow)},
                                      {units::Quantity(101000.0), units::Quantity(0.0)}};
  const auto reach = study::timing(with, solve::all_tips(with, solve::TipState::part), 0, needs.front(), 2).reach;
  REQUIRE(reach);
  CHECK_THAT(*reach, WithinRel(time, 2e-3));
}

TEST_CASE("the line's own pump settles when the line does", "[study][property]") {
  // A narrow hose before a bowl takes eight pieces; in two it settles 1.3 % sooner.
  line::Line line = test::scenario("jewel-setter");
  std::get<line::Bore>(test::element(line, "supply hose").restriction) = line::Bore{2e-3, 2.0};
  test::element(line, "gauge tee").volume = units::Quantity(0.25e-3);
  const study::Rise rise = study::rise(line, solve::usual_tips(line), {{}, 2});
  REQUIRE(rise.segments > study::few_pieces);
  // Both are right to a few parts in ten thousand for their pieces.
  CHECK_THAT(study::pumps(line, {}).tries.front().settle, WithinRel(rise.settle, 5e-4));
  REQUIRE(std::abs(study::timing(line, solve::usual_tips(line), 0, 1e3, study::few_pieces).settle - rise.settle) >
          5e-3 * rise.settle);
}

TEST_CASE("the time allowed begins when the valve has moved, ramp and all", "[study][closed-form]") {
  line::Line line = heavy();
  line::Element& valve = test::element(line, "valve");
  valve.valve->opens = units::Quantity(10e-3);
  valve.valve->ramp = units::Quantity(0.0);
  // [cycle]: touch and valve-on 60 ms, lift 160 ms.
  CHECK_THAT(study::pumps(line, {}).time.value(), WithinAbs(0.090, 1e-12));
  valve.valve->ramp = units::Quantity(60e-3);
  CHECK_THAT(study::pumps(line, {}).time.value(), WithinAbs(0.030, 1e-12));
}

TEST_CASE("the required curve never rises and ends where holding ends", "[study][property]") {
  for (const auto& speed : {std::optional<double>(), std::optional<double>(1e-4)}) {
    const auto curve = study::required_curve({40e3, 3e-5}, speed);
    REQUIRE(curve.size() > 2);
    CHECK(curve.front().vacuum == 0.0);
    CHECK(curve.back().vacuum == Approx(40e3));
    for (std::size_t i = 1; i < curve.size(); ++i) CHECK(curve[i].flow <= curve[i - 1].flow);
    CHECK(curve.back().flow >= 3e-5);
  }
}

TEST_CASE("the smallest pump that does has the least free flow of those that do", "[study][property]") {
  study::PumpsOptions options;
  options.stock = stock();
  const study::Pumps pumps = study::pumps(heavy(), options);
  REQUIRE(pumps.smallest);
  for (const study::PumpTry& one : pumps.tries)
    if (one.does()) CHECK(one.free_flow >= pumps.tries[*pumps.smallest].free_flow);
  CHECK(pumps.tries[*pumps.smallest].does());
}

TEST_CASE("a part on a nozzle holds, holds without safety only, or drops", "[study][property]") {
  const line::Line line = test::scenario("jewel-setter");
  study::PumpsOptions options;
  line::Part part = *line.part;
  const double heaviest = study::hold(line).tips.front().heaviest;
  for (const double factor : {0.99, 1.5, 8.0}) {
    part.mass = units::Quantity(heaviest * factor);
    options.parts.push_back(part);
  }
  part = *line.part;
  part.length = part.width = units::Quantity(0.8e-3);  // smaller than the bore of 1 mm
  options.parts.push_back(part);
  line::Element wide = line.elements.back();
  wide.restriction = line::Bore{2.5e-3, 6e-3, 0.0, 0.0};
  wide.rim = units::Quantity(4e-3);
  options.nozzles = {wide};
  const study::Pumps pumps = study::pumps(line, options);
  const auto& grasps = pumps.tries.front().grasps;
  REQUIRE(grasps.size() == 5);
  CHECK(grasps[0][0] == Grasp::holds);
  CHECK(grasps[1][0] == Grasp::holds);
  CHECK(grasps[2][0] == Grasp::marginal);
  CHECK(grasps[3][0] == Grasp::drops);
  CHECK(grasps[4][0] == Grasp::drops);
  CHECK(grasps[0][1] == Grasp::drops);  // 2 mm wide, on a bore of 2.5 mm
}

TEST_CASE("pumps says what its margins take for granted", "[study][property]") {
  line::Line line = test::scenario("jewel-setter");
  CHECK(study::pumps(line, {}).notes.empty());
  line.part->height.reset();
  const study::Pumps asked = study::pumps(line, {});
  REQUIRE(asked.notes.size() == 1);
  CHECK(asked.notes.front() == "the part's height is not given: sideways moves are taken not to tilt it");
}

TEST_CASE("pumps says what it lacks", "[study][property]") {
  line::Line line = test::scenario("jewel-setter");
  study::PumpsOptions options;
  options.at = "pmp";
  CHECK_THROWS_AS(study::pumps(line, options), BadInput);
  options.at.clear();
  line.part.reset();
  CHECK_THROWS_AS(study::pumps(line, options), BadInput);
  line = test::scenario("jewel-setter");
  line.elements.pop_back();
  const std::string no_nozzle = line.file + ": the line has no nozzle; add an element of kind \"nozzle\" at its end.";
  CHECK_THROWS_WITH(study::pumps(line, options), no_nozzle);
  CHECK_THROWS_WITH(study::pump_duty(line, std::vector<double>{10e3}), no_nozzle);
  CHECK_THROWS_AS(study::weakest_vacuum(solve::steady(line, {})), DomainError);
}

TEST_CASE("the question about pumps answers as the study does but for the gap", "[study][property]") {
  line::Line line = heavy();
  line.part->gap = units::Quantity(line.part->gap.value);
  study::PumpsOptions options;
  options.stock = stock();
  const study::Pumps pumps = study::pumps(line, options);
  const study::Question question = study::pumps_question(line, options);
  const std::vector<double> answer = study::nominal(question, line);
  CHECK_THAT(answer[0], WithinRel(pumps.hold.vacuum * 1.0, 1e-3));
  for (std::size_t i = 0; i < pumps.tries.size(); ++i) {
    CHECK_THAT(answer[3 + 2 * i], WithinAbs(pumps.tries[i].margin, 1e-2));
    CHECK(answer[2 + 2 * i] == (pumps.tries[i].margin >= 0.0 ? 1.0 : 0.0));
  }
}

TEST_CASE("other parts and nozzles are read as what they are", "[read][property]") {
  const std::string text =
      "format = 1\n[[other-part]]\nname = \"big\"\nmass = \"0.2 g\"\n[[other-nozzle]]\nuse = \"nozzle 0.6 mm\"\n";
  const read::Others others = read::read_others_text(text, "l.toml", 101325.0, {AIRTALLY_LINES "/catalogue"});
  REQUIRE(others.parts.size() == 1);
  CHECK_THAT(others.parts[0].mass.value, WithinRel(0.2e-3, 1e-12));
  REQUIRE(others.nozzles.size() == 1);
  CHECK(others.nozzles[0].name == "nozzle 0.6 mm");
  CHECK(others.nozzles[0].kind == line::Kind::nozzle);
  const auto refused = [](const std::string& keys) {
    try {
      read::read_others_text("format = 1\n" + keys, "l.toml", 101325.0);
    } catch (const BadInput& error) {
      return std::string(error.what());
    }
    return std::string("none");
  };
  CHECK(refused("[[other-part]]\nmass = \"1 g\"\n").find("needs a name") != std::string::npos);
  CHECK(refused("[[other-nozzle]]\nname = \"n\"\nkind = \"tee\"\nbore = \"1 mm\"\nlength = \"2 mm\"\n")
            .find("leave 'kind' out") != std::string::npos);
}
