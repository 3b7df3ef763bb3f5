#include "study/joint.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "errors.hpp"
#include "line/seat.hpp"
#include "line/variant.hpp"
#include "lines/lines.hpp"
#include "read/stock.hpp"
#include "read/twist_file.hpp"
#include "report/joint_text.hpp"
#include "study/hold.hpp"
#include "study/pumps.hpp"
#include "study/question_joint.hpp"
#include "study/rise.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using std::numbers::pi;

namespace {

constexpr double degree = pi / 180.0;

line::Line setter() { return test::scenario("jewel-setter"); }

line::Twist twist() { return read::read_twist(AIRTALLY_LINES "/jewel-setter.toml").value(); }

std::vector<line::Seal> catalogue() { return read::read_seals({AIRTALLY_LINES "/catalogue"}, 101325.0); }

const study::JointWay& way(const study::Joint& joint, const std::string& name) {
  for (const study::JointWay& one : joint.ways)
    if (one.name == name) return one;
  throw std::runtime_error("no way " + name);
}

/// At the widest gap, by which the hold is judged too.
double reach(const line::Line& line) {
  const line::Line wide = line::at_widest_gap(line);
  return study::timing(wide, solve::all_tips(wide, solve::TipState::part), 0, twist().wait_for.value(), 2)
      .reach.value();
}

std::string refusal(const line::Line& line, const line::Twist& asked) {
  try {
    study::joint(line, asked);
  } catch (const BadInput& error) {
    return error.what();
  }
  return "none";
}

}  // namespace

TEST_CASE("every way of a joint study is the line with that way in it", "[study][property]") {
  const line::Line line = setter();
  const study::Joint joint = study::joint(line, twist(), {catalogue(), false});
  REQUIRE(joint.ways.size() == 10);
  CHECK(joint.ways.front().own);
  CHECK(joint.ways[joint.tube].twists);
  CHECK_THAT(joint.ways.front().vacuum_part, WithinAbs(test::tip_vacuum(line, solve::TipState::part), 1e-3));
  CHECK_THAT(joint.ways.front().vacuum_open, WithinAbs(test::tip_vacuum(line, solve::TipState::open), 1e-3));
  CHECK_THAT(joint.ways.front().margin, WithinAbs(study::hold(line).tips.front().margin, 1e-3));
  CHECK_THAT(joint.ways.front().reach.value(), WithinRel(reach(line), 1e-9));
  line::Line lip = line;
  line::Element& there = test::element(lip, "rotary joint");
  for (const line::Seal& seal : catalogue())
    if (seal.element.name == "rotary joint, lip seal")
      there.restriction = seal.element.restriction, there.leaks = seal.element.leaks;
  CHECK_THAT(way(joint, "rotary joint, lip seal").vacuum_part,
             WithinAbs(test::tip_vacuum(lip, solve::TipState::part), 1e-3));
  // The same head with plain tube is written down as a line of its own; its tube's ends leak half a millilitre.
  CHECK_THAT(joint.ways[joint.tube].vacuum_part,
             WithinAbs(test::tip_vacuum(test::scenario("jewel-setter-twist"), solve::TipState::part), 30.0));
}

// As in a pick: a nozzle whose retract is left out leaves its part as the cycle ends.
TEST_CASE("a retract that is left out comes at the end of the period, else with the place", "[study][property]") {
  line::Line line = setter();  // touch 60, place 600, period 1200 ms
  line.cycle->retract.reset();
  line.move.reset();
  line::Twist asked = twist();
  asked.carry.reset();
  asked.back.reset();
  const auto assumes = [](const study::Joint& joint) {
    return std::any_of(joint.notes.begin(), joint.notes.end(), [](const std::string& note) {
      return note.find("gives neither 'retract' nor 'period'") != std::string::npos;
    });
  };
  const study::Joint repeats = study::joint(line, asked, {{}, false});
  CHECK_THAT(repeats.other, WithinAbs(0.6, 1e-12));
  CHECK_THAT(repeats.back, WithinAbs(0.06, 1e-12));
  CHECK_FALSE(assumes(repeats));
  line.cycle->period.reset();
  const study::Joint once = study::joint(line, asked, {{}, false});
  CHECK(once.other == 0.0);
  CHECK(assumes(once));
}

TEST_CASE("a placement is its travel, the wait for vacuum and what the travel does not hide", "[study][closed-form]") {
  const line::Line line = setter();
  const study::Joint joint = study::joint(line, twist(), {{}, false});
  // [cycle]: lift 160, place 600, retract 750, period 1200, touch 60 ms.
  CHECK_THAT(joint.carry, WithinAbs(0.440, 1e-12));
  CHECK_THAT(joint.other, WithinAbs(0.150, 1e-12));
  CHECK_THAT(joint.back, WithinAbs(0.510, 1e-12));
  for (const study::JointWay& one : joint.ways) {
    CAPTURE(one.name);
    CHECK_THAT(*one.late, WithinAbs(*one.reach + one.turns.late + one.turns.late_back, 1e-12));
    CHECK_THAT(*one.placement, WithinAbs(*one.late + 1.1, 1e-12));
  }
}

TEST_CASE("with the break-even's clearance joint and tube cost the same", "[study][closed-form]") {
  line::Line line = setter();
  const study::Joint joint = study::joint(line, twist(), {{}, true});
  REQUIRE(joint.even.outcome == study::BreakEven::Outcome::found);
  CHECK(joint.even.clearance);
  CHECK_THAT(joint.even.now, WithinRel(35e-6, 1e-12));
  std::get<line::Clearance>(test::element(line, "rotary joint").leaks.front()).gap = units::Quantity(joint.even.value);
  const study::Joint there = study::joint(line, twist(), {{}, false});
  CHECK_THAT(*there.ways[0].late, WithinRel(*there.ways[there.tube].late, 2e-3));
  // The curve rises, and crosses the tube's cost there.
  const double tube = *joint.ways[joint.tube].late;
  double before = 0.0;
  for (const study::JointPoint& point : joint.even.curve) {
    if (!point.late) continue;
    CHECK(*point.late > before - 1e-5);
    if (std::abs(point.value - joint.even.value) > 0.01 * joint.even.value)
      CHECK((*point.late < tube) == (point.value < joint.even.value));
    before = *point.late;
  }
}

TEST_CASE("at the even pace joint and tube cost the same", "[study][closed-form]") {
  const line::Line line = setter();
  line::Twist slow = twist();
  slow.motor.speed = 5.0;
  const study::Joint joint = study::joint(line, slow, {{}, false});
  REQUIRE(joint.even_pace);
  // Travel times scaled until the placement takes as long as that pace says.
  const double travel = joint.carry + joint.back + joint.other;
  double low = 0.0, high = 64.0;
  study::Joint there;
  for (int i = 0; i < 60; ++i) {
    const double scale = 0.5 * (low + high);
    slow.carry = joint.carry * scale;
    slow.back = joint.back * scale;
    there = study::joint(line, slow, {{}, false});
    const double placement = *there.ways[there.tube].late + scale * travel;
    (placement < 1.0 / *joint.even_pace ? low : high) = scale;
  }
  CHECK_THAT(*there.ways[0].late, WithinRel(*there.ways[there.tube].late, 2e-3));
}

TEST_CASE("the tube's strain, torque, kink and limit each can forbid it", "[study][property]") {
  const line::Line line = setter();
  const auto lacks = [&](const line::Twist& asked) {
    const study::Joint joint = study::joint(line, asked, {{}, false});
    return joint.ways[joint.tube].troubles.empty() ? std::string() : joint.ways[joint.tube].troubles.front();
  };
  CHECK(lacks(twist()).empty());
  line::Twist asked = twist();
  asked.tube->length = 0.03;
  CHECK(lacks(asked).find("too short") != std::string::npos);
  asked = twist();
  asked.motor.torque = 1e-4;
  CHECK(lacks(asked).find("too weak") != std::string::npos);
  asked = twist();
  asked.bend = 1e-3;
  CHECK(lacks(asked).find("kinks") != std::string::npos);
  asked = twist();
  asked.tube->modulus = 1e5;
  CHECK(lacks(asked).find("flattens") != std::string::npos);
  asked = twist();
  asked.limit = 60 * degree;
  asked.pick = 0.0;
  CHECK(lacks(asked).find("beyond its limit") != std::string::npos);
}

// A small nozzle under a part that seals badly: the tip has little, the tube behind it nearly all of the pump's vacuum.
TEST_CASE("a tube is judged by the vacuum in itself, not by that at the tip", "[study][property]") {
  line::Line line = setter();
  std::get<line::Bore>(test::element(line, "nozzle").restriction).bore = units::Quantity(0.5e-3);
  line.part->gap = units::Quantity(60e-6);
  line::Twist asked = twist();
  asked.wait_for = 10e3;
  asked.bend.reset();
  asked.tube = line::TwistTube{2e-3, 0.15, 0.5e-3, 2.65e6};
  const study::Joint joint = study::joint(line, asked, {{}, false});
  const study::JointWay& tube = joint.ways[joint.tube];
  CHECK(joint.twisted.flattens > std::max(tube.vacuum_open, tube.vacuum_part));
  line::Line with = line;
  test::element(with, "rotary joint").restriction = line::Bore{2e-3, 0.15};
  test::element(with, "rotary joint").leaks.clear();
  const auto blocked = solve::steady(with, solve::all_tips(with, solve::TipState::blocked));
  CHECK(joint.twisted.flattens < blocked.elements[*line::find(with, "rotary joint")].vacuum);
  REQUIRE_FALSE(tube.troubles.empty());
  CHECK(tube.troubles.front() == "the tube flattens under its vacuum");
  CHECK_FALSE(joint.twisted.tightest);
}

TEST_CASE("a vacuum that nothing reaches leaves no way", "[study][property]") {
  line::Twist asked = twist();
  asked.wait_for = 80e3;
  const study::Joint joint = study::joint(setter(), asked, {catalogue(), false});
  CHECK(!joint.best);
  CHECK(!joint.tube_wins());
  for (const study::JointWay& one : joint.ways) {
    CHECK(!one.does());
    CHECK(!one.duty);
    CHECK(!one.late);
  }
}

// At the share of its time that the pump has to run, slowed down to that share, the tip has just the vacuum asked for.
TEST_CASE("the pump's duty is the least speed that keeps the vacuum", "[study][closed-form]") {
  line::Line line = setter();
  const study::Joint joint = study::joint(line, twist(), {{}, false});
  REQUIRE(joint.ways[0].duty);
  test::element(line, "pump").pump->speed = units::Quantity(*joint.ways[0].duty);
  line = line::at_widest_gap(line);
  CHECK_THAT(test::tip_vacuum(line, solve::TipState::part), WithinRel(35e3, 5e-3));
}

// Otherwise the same pump on the same line would lift at one moment by pumps and at another by joint.
TEST_CASE("joint and pumps have a line reach and keep its vacuum alike, at the widest gap", "[study][property]") {
  line::Line line = setter();
  line.part->gap = units::Quantity::uniform(2e-6, 300e-6);
  line::Twist asked = twist();
  asked.wait_for.reset();
  const study::JointWay own = study::joint(line, asked, {{}, false}).ways.front();
  const study::PumpTry pump = study::pumps(line, {}).tries.front();
  REQUIRE(own.reach);
  REQUIRE(pump.reach);
  CHECK_THAT(*own.reach, WithinRel(*pump.reach, 2e-3));  // pumps cuts long tubes finer
  CHECK(own.duty == pump.duty);
}

TEST_CASE("a part that does not close the nozzle is reached by no way, and no pump runs for it", "[study][property]") {
  line::Line line = setter();
  line.part->length = line.part->width = units::Quantity(0.5e-3);
  REQUIRE_FALSE(line::why_not_closed(line).empty());
  line::Twist asked = twist();
  asked.wait_for = 1e3;  // that even the open tip has
  const study::Joint joint = study::joint(line, asked, {catalogue(), false});
  for (const study::JointWay& one : joint.ways) {
    CHECK_FALSE(one.reach);
    CHECK_FALSE(one.duty);
  }
  CHECK(joint.even.outcome == study::BreakEven::Outcome::none);
  const study::Question question = study::joint_question(line, asked, {});
  std::vector<double> out(question.measures.size());
  question.answer(line, out);
  for (std::size_t m = 0; m < out.size(); ++m) {
    const study::Measure& measure = question.measures[m];
    CAPTURE(measure.key);
    if (measure.key == "tube_late_s" || measure.key == "joint_late_s") CHECK(out[m] == study::never);
    if (measure.key == "tube_wins_probability") CHECK(out[m] == 0.0);
    if (measure.key == "vacuum_pa") CHECK(out[m] < 20e3);  // as open
  }
}

TEST_CASE("a line that has the tube already is held against a joint of the catalogue", "[study][property]") {
  const line::Line line = test::scenario("jewel-setter-twist");
  line::Twist asked = twist();
  asked.tube.reset();
  asked.at = {"twist tube"};
  const study::Joint joint = study::joint(line, asked, {catalogue(), false});
  CHECK(joint.tube == 0);
  CHECK(joint.ways[0].own);
  REQUIRE(joint.joint);
  CHECK(joint.ways[*joint.joint].name == "rotary joint, clearance, close fit");
  CHECK(joint.even.clearance);
  asked.at = {"twist tub"};
  CHECK(refusal(line, asked).find("at names 'twist tub', which is no element") != std::string::npos);
  asked.at = {"nozzle"};
  CHECK(refusal(line, asked).find("it must be a rotary joint or the tube that twists") != std::string::npos);
}

TEST_CASE("a joint study says what it lacks", "[study][property]") {
  line::Line line = setter();
  line::Twist asked = twist();
  asked.tube.reset();
  CHECK(refusal(line, asked).find("needs 'tube'") != std::string::npos);
  CHECK(refusal(test::scenario("jewel-setter-twist"), twist()).find("no rotary joint") != std::string::npos);
  line.part.reset();
  CHECK(refusal(line, twist()).find("[part]") != std::string::npos);
  line = setter();
  line.elements.pop_back();
  CHECK(refusal(line, twist()).find("the line has no nozzle") != std::string::npos);
}

TEST_CASE("the question of a joint study answers as the study does", "[study][agreement]") {
  const line::Line line = line::at_widest_gap(setter());  // a sample is sure of its gap
  const study::Joint joint = study::joint(line, twist(), {{}, false});
  const study::Question question = study::joint_question(line, twist(), {});
  const std::vector<double> answer = study::nominal(question, line);
  REQUIRE(question.measures.size() == answer.size());
  const auto of = [&](const std::string& key) {
    for (std::size_t m = 0; m < answer.size(); ++m)
      if (question.measures[m].key == key) return answer[m];
    throw std::runtime_error("no measure " + key);
  };
  CHECK(of("tube_wins_probability") == (joint.tube_wins() ? 1.0 : 0.0));
  CHECK_THAT(of("tube_late_s"), WithinRel(*joint.ways[joint.tube].late, 1e-9));
  CHECK_THAT(of("joint_late_s"), WithinRel(*joint.ways[0].late, 1e-9));
  CHECK_THAT(of("even_clearance_m"), WithinRel(joint.even.value, 2e-3));
}

TEST_CASE("the words about joint and tube agree with the table and with the best", "[study][report]") {
  const line::Line line = setter();
  const study::Joint joint = study::joint(line, twist(), {catalogue(), false});
  const std::string text = report::joint_verdict(line, joint);
  REQUIRE(joint.best);
  CHECK(joint.ways[*joint.best].name == "rotary joint, face seal");
  CHECK(text.find("by a hair the best of all is the 'rotary joint, face seal'") != std::string::npos);
  // What costs within one part in a hundred: all but the loose clearances, one of them the line's own.
  std::size_t alike = 0;
  for (std::size_t k = 0; k < joint.ways.size(); ++k) alike += joint.alike(k, joint.tube) ? 1U : 0U;
  CHECK(alike == 8);
  CHECK(text.find("7 seals of the catalogue do as well") != std::string::npos);
  CHECK_FALSE(joint.alike(0, joint.tube));
  CHECK(text.find("wins") != std::string::npos);

  // A joint that is hardly better or worse than the tube wins nothing.
  line::Line tight = line;
  for (line::Element& e : tight.elements)
    if (e.kind == line::Kind::rotary) e.leaks.clear();
  const study::Joint both = study::joint(tight, twist(), {{}, false});
  REQUIRE(both.joint);
  CHECK(both.alike(*both.joint, both.tube));
  const std::string same = report::joint_verdict(tight, both);
  CHECK(same.find("cost a placement the same") != std::string::npos);
  CHECK(same.find("wins") == std::string::npos);
}
