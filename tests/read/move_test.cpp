#include <catch2/catch.hpp>
#include <numbers>

#include "read/line_file.hpp"
#include "read/refusal.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;

namespace {

line::Move move_of(const std::string& keys) {
  const auto line =
      read::read_line_text("format = 1\n[move]\n" + keys + "\n[[element]]\nname = \"t\"\nkind = \"tee\"\n", "l.toml");
  return line.move.value();
}

std::string move_refused(const std::string& keys) {
  return test::refusal("format = 1\n[move]\n" + keys + "\n[[element]]\nname = \"t\"\nkind = \"tee\"\n");
}

}  // namespace

TEST_CASE("[move] is read in SI", "[read][closed-form]") {
  const line::Move move = move_of(
      "lift = \"0.5 g\"\ntravel = \"12 m/s2\"\nspin = \"300 rpm\"\nspin-up = \"180 deg/s2\"\noffset = \"0.2 mm\"\n"
      "friction = 0.4\nsafety = { lift = 1.5, side = 3 }\nseal = \"rim\"");
  CHECK_THAT(move.lift.value, WithinRel(4.903325, 1e-12));
  CHECK(move.travel.value == 12.0);
  CHECK_THAT(move.spin.value, WithinRel(10.0 * std::numbers::pi, 1e-12));
  CHECK_THAT(move.spin_up.value, WithinRel(std::numbers::pi, 1e-12));
  CHECK_THAT(move.offset.value, WithinRel(0.2e-3, 1e-12));
  CHECK(move.friction.value == 0.4);
  CHECK(move.lift_safety.value == 1.5);
  CHECK(move.side_safety.value == 3.0);
  CHECK((move.friction_stated && move.lift_safety_stated && move.side_safety_stated));
  CHECK(move.seal == line::SealAt::rim);
  CHECK(move.where.line == 2);
}

TEST_CASE("what [move] leaves out is common practice, and said so", "[read][property]") {
  const line::Move move = move_of("safety = { side = 5 }");
  CHECK(move.lift.value == 0.0);
  CHECK(move.friction.value == 0.3);
  CHECK(move.lift_safety.value == 2.0);
  CHECK(move.side_safety.value == 5.0);
  CHECK_FALSE(move.friction_stated);
  CHECK_FALSE(move.lift_safety_stated);
  CHECK(move.side_safety_stated);
  CHECK(move.seal == line::SealAt::bore);
  const auto line = read::read_line_text("format = 1\n[move]\n[[element]]\nname = \"t\"\nkind = \"tee\"\n", "l.toml");
  const auto& said = line.assumed;
  CHECK(std::find(said.begin(), said.end(), "safety not given: 2 lifting, 4 sideways (common practice)") != said.end());
  CHECK_FALSE(
      read::read_line_text("format = 1\n[[element]]\nname = \"t\"\nkind = \"tee\"\n", "l.toml").move.has_value());
}

TEST_CASE("a slip in [move] is told with its place", "[read][property]") {
  CHECK(move_refused("safety = { lift = 0.5 }") == "l.toml:3:19: move: safety.lift = 0.5 is outside 1 .. 100.");
  CHECK(move_refused("friction = 0") == "l.toml:3:12: move: friction = 0 is outside 0.01 .. 5.");
  CHECK(move_refused("lift = 5").find("l.toml:3:8: move: lift = 5 is a bare number; say its unit") == 0);
  CHECK(move_refused("seal = \"lip\"").find("l.toml:3:8: move: seal = \"lip\"") == 0);
  CHECK(move_refused("speed = \"1 m/s\"")
            .find("l.toml:3:1: move: 'speed' is not a key of [move]. Allowed: lift, travel") == 0);
}
