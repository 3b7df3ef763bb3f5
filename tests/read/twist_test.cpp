#include <catch2/catch.hpp>
#include <fstream>
#include <numbers>
#include <sstream>

#include "read/angles_file.hpp"
#include "read/line_file.hpp"
#include "read/stock.hpp"
#include "read/twist_file.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;
using std::numbers::pi;

namespace {

const std::string motor = "motor = { speed = \"600 rpm\", acceleration = \"2000 rad/s2\" }\n";

std::string file(const std::string& keys) {
  return "format = 1\n[twist]\n" + keys + "[[element]]\nname = \"t\"\nkind = \"tee\"\n";
}

line::Twist twist_of(const std::string& keys, const std::vector<read::Change>& changes = {}) {
  return read::read_twist_text(file(keys), "l.toml", {AIRTALLY_LINES "/catalogue"}, changes).value();
}

std::string twist_refused(const std::string& keys) {
  try {
    read::read_twist_text(file(keys), "l.toml");
  } catch (const BadInput& error) {
    return error.what();
  }
  return "none";
}

std::string trouble(const std::string& csv) {
  try {
    read::read_angles_text(csv, "job.csv");
  } catch (const BadInput& error) {
    return error.what();
  }
  return "none";
}

}  // namespace

TEST_CASE("[twist] is read in SI, the tube's entry from the catalogue", "[read][closed-form]") {
  const line::Twist twist = twist_of(
      "at = [\"a\", \"b\"]\ntube = { use = \"silicone tube 4x2\", length = \"150 mm\" }\nlimit = \"270 deg\"\nstrain = "
      "0.3\nbend = \"25 mm\"\nmotor = { speed = \"600 rpm\", acceleration = \"2000 rad/s2\", torque = \"25 mN m\", "
      "inertia = \"8 g cm2\" }\nangles = [\"90 deg\", \"0.5 turn\"]\npick-angle = \"10 deg\"\ncarry = \"440 ms\"\nback "
      "= \"0.5 s\"\nwait-for = \"35 kPa\"\n");
  CHECK(twist.at == std::vector<std::string>{"a", "b"});
  REQUIRE(twist.tube);
  CHECK_THAT(twist.tube->bore, WithinRel(2e-3, 1e-12));
  CHECK_THAT(twist.tube->wall, WithinRel(1e-3, 1e-12));
  CHECK_THAT(twist.tube->modulus, WithinRel(2e6, 1e-12));
  CHECK_THAT(twist.tube->length, WithinRel(0.15, 1e-12));
  CHECK_THAT(twist.limit, WithinRel(1.5 * pi, 1e-12));
  CHECK(twist.strain == 0.3);
  CHECK_THAT(twist.motor.speed, WithinRel(20 * pi, 1e-12));
  CHECK_THAT(twist.motor.torque.value(), WithinRel(25e-3, 1e-12));
  CHECK_THAT(twist.motor.inertia.value(), WithinRel(8e-7, 1e-12));
  REQUIRE(twist.angles.size() == 2);
  CHECK_THAT(twist.angles[0], WithinRel(0.5 * pi, 1e-12));
  CHECK_THAT(twist.angles[1], WithinRel(pi, 1e-12));
  CHECK_THAT(twist.pick.value(), WithinRel(pi / 18, 1e-12));
  CHECK(twist.carry.value() == 0.44);
  CHECK(twist.back.value() == 0.5);
  CHECK(twist.wait_for.value() == 35e3);
}

TEST_CASE("[twist] may be short, and --set reaches into it", "[read][property]") {
  const line::Twist twist = twist_of("limit = \"1 turn\"\n" + motor);
  CHECK(twist.at.empty());
  CHECK(!twist.tube);
  CHECK(twist.angles.empty());
  CHECK(twist.strain == 0.2);
  CHECK(twist_of("limit = \"1 turn\"\n" + motor, {{"twist.limit", "90 deg", "--set x"}}).limit == Approx(0.5 * pi));
  CHECK(twist_of("limit = \"1 turn\"\n" + motor, {{"twist.motor.speed", "60 rpm", "--set x"}}).motor.speed ==
        Approx(2 * pi));
}

TEST_CASE("the friction of the joint that is there is found in its element or its entry", "[read][property]") {
  const auto friction = [](const std::string& elements) {
    return read::read_twist_text("format = 1\n[twist]\nlimit = \"1 turn\"\n" + motor + elements, "l.toml",
                                 {AIRTALLY_LINES "/catalogue"})
        .value()
        .friction;
  };
  const std::string rotary = "[[element]]\nname = \"j\"\nkind = \"rotary\"\n";
  CHECK(friction(rotary + "friction = \"3 mN m\"\n").value() == Approx(3e-3));
  CHECK(friction("[[element]]\nname = \"j\"\nuse = \"rotary joint, lip seal\"\n").value() == Approx(6e-3));
  CHECK(!friction(rotary));
  // Of several joints that the tube would stand in for, the one that rubs most, in whatever order they are named.
  const std::string two = rotary + "friction = \"3 mN m\"\n[[element]]\nname = \"k\"\nkind = \"rotary\"\n";
  for (const char* at : {"[\"j\", \"k\"]", "[\"k\", \"j\"]"})
    CHECK(read::read_twist_text("format = 1\n[twist]\nlimit = \"1 turn\"\nat = " + std::string(at) + "\n" + motor + two,
                                "l.toml")
              .value()
              .friction.value() == Approx(3e-3));
  CHECK(!read::read_twist_text("format = 1\n", "l.toml"));
}

TEST_CASE("a [twist] that says too little or too much is refused with its place", "[read][property]") {
  CHECK(twist_refused(motor).find("twist: needs 'limit', such as limit = ") != std::string::npos);
  CHECK(twist_refused("limit = \"1 turn\"\n").find("needs 'motor', such as motor = {") != std::string::npos);
  CHECK(twist_refused("limit = \"1 turn\"\nangles = \"round\"\n" + motor)
            .find("l.toml:4:10: twist: angles = \"round\" is "
                  "neither \"uniform\", a list") != std::string::npos);
  CHECK(twist_refused("limit = \"1 turn\"\nangles = [\"3 mm\"]\n" + motor).find("angles") != std::string::npos);
  CHECK(twist_refused("limit = \"1 turn\"\nangles = []\n" + motor).find("the list of angles is empty") !=
        std::string::npos);
  CHECK(twist_refused("limit = \"1 turn\"\nangles = \"none.csv\"\n" + motor).find("none.csv: there is no such file") !=
        std::string::npos);
  CHECK(twist_refused("limit = \"1 turn\"\ntube = { bore = \"2 mm\" }\n" + motor).find("twist: tube: needs 'length'") !=
        std::string::npos);
  CHECK(twist_refused("limit = \"1 turn\"\nat = 3\n" + motor).find("at must be the name of an element") !=
        std::string::npos);
  CHECK(twist_refused("limit = \"90..270 deg\"\n" + motor).find("limit must be a single value") != std::string::npos);
  CHECK(twist_refused("limit = \"1 turn\"\nlimits = 3\n" + motor)
            .find("'limits' is not a key of [twist]. Did you mean "
                  "'limit'?") != std::string::npos);
}

TEST_CASE("a list of placements is read by its column of angles", "[read][closed-form]") {
  const auto plain = read::read_angles_text("ref,x_mm,angle_deg\nR1,3.5,90\n\n# a note\nR2,1,-180\n", "job.csv");
  REQUIRE(plain.size() == 2);
  CHECK_THAT(plain[0], WithinRel(0.5 * pi, 1e-12));
  CHECK_THAT(plain[1], WithinRel(-pi, 1e-12));
  const auto comma = read::read_angles_text("part;turn [turn]\na;0,25\n", "job.csv");
  CHECK_THAT(comma.at(0), WithinRel(0.5 * pi, 1e-12));
  CHECK(trouble("ref,x_mm\nR1,3\n").starts_with("job.csv:1:1: no column with a unit of angle"));
  CHECK(trouble("ref,angle_deg\nR1,ten\n").starts_with("job.csv:2:4: 'ten' is no angle."));
  CHECK(trouble("angle_deg\n").find("no angle is here") != std::string::npos);
  // With a decimal comma among commas 22.5 would be read as 22.
  const std::string extra = trouble("part, angle_deg\n1,22,5\n2,90,5\n");
  CHECK(
      extra.starts_with("job.csv:2:6: this row has 3 values and the first row names 2 columns; name every column, and "
                        "write decimals with a point, or semicolons between values."));
  CHECK(extra.find("job.csv:3") == std::string::npos);  // one such row says it for all
  CHECK(read::read_angles_text("part, angle_deg\n1,22,\n", "job.csv").size() == 1);
  for (const char* far : {"1e300", "-1e6", "40107.1"})
    CHECK(trouble(std::string("angle_deg\n") + far + "\n") ==
          std::string("job.csv:2:1: '") + far + "' must be an angle of -700 rad .. 700 rad.");
  CHECK(read::read_angles_text("angle_rad\n700\n-700\n", "job.csv").size() == 2);
}

TEST_CASE("the line format's page names every key of [twist]", "[docs][property]") {
  std::ifstream in(AIRTALLY_SOURCE_DIR "/docs/line-format.md");
  std::stringstream text;
  text << in.rdbuf();
  for (const std::string& keys :
       {std::string("zzzzzz = 1\n"), std::string("tube = { zzzzzz = 1 }\n"), std::string("motor = { zzzzzz = 1 }\n")}) {
    const std::string said = twist_refused(keys);
    const std::size_t begin = said.find("Allowed: ");
    REQUIRE(begin != std::string::npos);
    std::stringstream words(said.substr(begin + 9, said.find('.', begin) - begin - 9));
    int count = 0;
    for (std::string word; std::getline(words, word, ',');) {
      word = word.substr(word.find_first_not_of(' '));
      CAPTURE(word);
      if (word == "name" || word == "kind" || word == "roughness" || word == "leak" || word == "volume") continue;
      ++count;
      CHECK((text.str().find('`' + word + '`') != std::string::npos ||
             text.str().find(word + " = ") != std::string::npos));
    }
    CHECK(count >= 4);
  }
}

TEST_CASE("a catalogue's joints come as elements, one per name", "[read][property]") {
  const auto seals = read::read_stock({AIRTALLY_LINES "/catalogue"}, {line::Kind::rotary}, 101325.0);
  CHECK(seals.size() == 8);
  for (const line::Element& seal : seals) {
    CAPTURE(seal.name);
    CHECK(seal.kind == line::Kind::rotary);
    CHECK(seal.leaks.size() == 1);
  }
  for (const line::Seal& seal : read::read_seals({AIRTALLY_LINES "/catalogue"}, 101325.0))
    CHECK(seal.friction.has_value());
  // The same place twice brings nothing new.
  CHECK(read::read_stock({AIRTALLY_LINES "/catalogue", AIRTALLY_LINES "/catalogue/joints.toml"}, {line::Kind::rotary},
                         101325.0)
            .size() == 8);
  CHECK_THROWS_AS(read::read_stock({AIRTALLY_LINES "/no such folder"}, {line::Kind::pump}, 101325.0), BadInput);
}
