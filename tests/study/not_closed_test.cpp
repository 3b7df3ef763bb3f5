// A part that is too small for a nozzle, or picked beside its middle, closes nothing: every question has to say so.
#include <algorithm>
#include <catch2/catch.hpp>

#include "line/seat.hpp"
#include "lines/lines.hpp"
#include "study/check.hpp"
#include "study/cycle.hpp"
#include "study/hold.hpp"
#include "study/pumps.hpp"
#include "study/rank.hpp"
#include "study/sense.hpp"

using namespace airtally;
using line::Seat;

namespace {

/// The jewel setter: a 1 mm bore with a 1.8 mm rim, and a jewel of 2 mm by 2 mm.
line::Line setter() { return test::scenario("jewel-setter"); }

std::size_t nozzle_of(const line::Line& line) { return line::all_of(line, line::Kind::nozzle).front(); }

line::Line sized(double length, double width) {
  line::Line line = setter();
  line.part->length = units::Quantity(length);
  line.part->width = units::Quantity(width);
  return line;
}

std::string why(const line::Line& line) { return line::why_not_closed(line, nozzle_of(line)); }

}  // namespace

TEST_CASE("a part closes a mouth that it covers, and no other", "[seat][closed-form]") {
  CHECK(line::seat_of(setter(), nozzle_of(setter())) == Seat::closed);
  CHECK(why(setter()).empty());
  CHECK(why(sized(1e-3, 1e-3)) ==
        "the part, 1.00 mm at its longest, is no larger than the bore of 'nozzle', 1.00 mm: it is sucked in");
  CHECK(why(sized(5e-3, 1e-3)) ==
        "the part, 1.00 mm on its short side, does not cover the bore of 'nozzle', 1.00 mm, and can't close it");
  CHECK(why(sized(1.01e-3, 1.01e-3)).empty());

  line::Line rim = sized(2e-3, 1.7e-3);
  CHECK(why(rim).empty());
  rim.move->seal = line::SealAt::rim;
  CHECK(why(rim) ==
        "the part, 1.70 mm on its short side, does not cover the rim of 'nozzle', 1.80 mm, and can't close it");
  rim.part->width = units::Quantity(1.8e-3);
  CHECK(why(rim).empty());
  // One side given stands for both; none given speaks against nothing.
  rim.part->width.reset();
  rim.part->length = units::Quantity(1.7e-3);
  CHECK(line::seat_of(rim, nozzle_of(rim)) == Seat::gaping);
  rim.part->length.reset();
  CHECK(line::seat_of(rim, nozzle_of(rim)) == Seat::closed);
}

TEST_CASE("of a mouth without a bore nothing is known, so the part is taken to close it", "[seat][property]") {
  line::Line line = sized(0.6e-3, 0.6e-3);
  CHECK(solve::usual_tips(line).front() == solve::TipState::open);
  line.elements[nozzle_of(line)].restriction = line::Iso{units::Quantity(1e-9), units::Quantity(0.35)};
  CHECK(solve::usual_tips(line).front() == solve::TipState::part);
  CHECK(why(line).empty());
}

TEST_CASE("a part picked beside its middle must still cover the mouth", "[seat][closed-form]") {
  line::Line line = setter();
  line.move->offset = 5e-3;
  CHECK(why(line) ==
        "picked 5.00 mm off its middle, the part, 2.00 mm at its longest, lies 4.00 mm beside the axis of "
        "'nozzle'");
  line.move->offset = 0.7e-3;  // 0.7 mm and half the bore are 1.2 mm, and half the part 1 mm
  CHECK(why(line) ==
        "picked 0.700 mm off its middle, the part, 2.00 mm at its longest, leaves 0.200 mm of the bore of "
        "'nozzle', 1.00 mm, uncovered");
  line.move->offset = 0.5e-3;
  CHECK(line::seat_of(line, nozzle_of(line)) == Seat::closed);
  // A bar may be picked far from its middle, along its length.
  line.part->length = units::Quantity(12e-3);
  line.move->offset = 5e-3;
  CHECK(line::seat_of(line, nozzle_of(line)) == Seat::closed);
}

TEST_CASE("what a part does not close, no question calls held", "[seat][property]") {
  line::Line beside = setter();
  beside.move->offset = 5e-3;
  for (const line::Line& line : {sized(0.6e-3, 0.6e-3), sized(4e-3, 0.8e-3), beside}) {
    const std::string clause = why(line);
    CAPTURE(clause);
    REQUIRE_FALSE(clause.empty());

    // The line at rest is that with its tip open.
    CHECK(solve::usual_tips(line) == solve::all_tips(line, solve::TipState::open));
    const study::Hold held = study::hold(line);
    CHECK_FALSE(held.holds());
    CHECK(held.tips.front().why_not_closed == clause);
    CHECK(held.tips.front().least.vacuum == 0.0);
    CHECK(held.tips.front().margin < 0.0);
    CHECK(held.tips.front().heaviest == 0.0);
    CHECK_FALSE(held.tips.front().most_lift);

    const std::vector<study::Warning> warned = study::warnings(line);
    REQUIRE(warned.size() == 1);
    CHECK(warned.front().element == nozzle_of(line));
    CHECK(warned.front().sentence == clause + "; it does not hold.");

    study::CycleOptions quick;
    quick.limits = false;
    const study::CycleAnswer cycle = study::cycle(line, quick);
    const study::HeadCycle& head = cycle.heads.front();
    CHECK_FALSE(head.works());
    CHECK_FALSE(head.safe_lift);
    CHECK_FALSE(head.let_go);
    CHECK(head.why_not_closed == clause);
    REQUIRE_FALSE(cycle.notes.empty());
    for (const std::string& note : cycle.notes) CHECK(note.find("still holds") == std::string::npos);
    for (const study::CycleEvent& event : cycle.events) CHECK(event.what != "meets the part");
    for (const study::CycleSample& sample : cycle.samples) CHECK(sample.vacuum.front() == 0.0);

    const study::Sense sensed = study::sense(line);
    CHECK_FALSE(sensed.tells);
    CHECK_FALSE(sensed.safe_after);
    const auto told = [&](const std::string& note) { return note.starts_with(clause); };
    CHECK(std::any_of(sensed.notes.begin(), sensed.notes.end(), told));

    study::PumpsOptions options;
    options.parts = {*line.part, *setter().part};
    const study::Pumps pumps = study::pumps(line, options);
    CHECK_FALSE(pumps.smallest);
    CHECK_FALSE(pumps.hold_possible);
    CHECK(pumps.why_not_closed == clause);
    CHECK_FALSE(pumps.tries.front().does());
    CHECK_FALSE(pumps.tries.front().reach);
    CHECK_FALSE(pumps.tries.front().duty);
    CHECK(pumps.tries.front().grasps[0][0] == study::Grasp::drops);
    CHECK(pumps.tries.front().grasps[1][0] == study::Grasp::drops);

    study::RankOptions ranking;
    ranking.objective = study::Objective::hold;
    ranking.settle_gains = false;
    CHECK(study::rank(line, solve::usual_tips(line), ranking).why_not_closed == clause);
  }
}
