// Each warning where it belongs, and nowhere else.
#include "study/check.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "lines/lines.hpp"
#include "support/lines.hpp"

using namespace airtally;
using namespace airtally::study;
using support::Builder;

namespace {

std::string sentences(const line::Line& line) {
  std::string all;
  for (const Warning& w : warnings(line)) all += line.elements[w.element].name + ": " + w.sentence + "\n";
  return all;
}

Builder plain() {
  Builder b;
  b.pump("pump", {{0, 6}, {60e3, 0}}).tube("hose", 4e-3, 0.5).nozzle("nozzle", 0.8e-3, 6e-3, 2e-3).part(1e-5, 5e-6);
  return b;
}

}  // namespace

TEST_CASE("a sound line earns no warning", "[study][property]") { CHECK(sentences(plain().line) == ""); }

TEST_CASE("a soft tube flattens where the ring formula says", "[study][literature]") {
  // Timoshenko and Gere, ring under uniform pressure in plane strain: p = E/(4 (1 - nu^2)) (t/r)^3, r the mean radius
  // (nu 0.45, common practice). At 60 kPa, wall 0.5 mm and bore 4 mm (r 2.25 mm): E = 60e3 * 4 * 0.7975 * 4.5^3
  // = 17.441 MPa.
  Builder b = plain();
  line::Element& hose = b.line.elements[1];
  hose.wall = 0.5e-3;
  const double limit = 60e3 * 4.0 * (1.0 - 0.45 * 0.45) * 4.5 * 4.5 * 4.5;
  CHECK_THAT(limit, Catch::Matchers::WithinRel(17.441e6, 1e-4));
  hose.modulus = 1.001 * limit;
  CHECK(sentences(b.line) == "");
  hose.modulus = 0.5 * limit;
  CHECK(
      sentences(b.line) ==
      "hose: 'hose' flattens at 30.0 kPa of vacuum (wall 0.50 mm, E = 8.7 MPa), and the source can pull 60.0 kPa; take "
      "a thicker wall or a stiffer tube.\n");
  hose.wall.reset();  // nothing is known of its wall: nothing is said
  CHECK(sentences(b.line) == "");
}

TEST_CASE("a part larger than the spacing", "[study][property]") {
  Builder b = plain();
  b.line.elements[2].spacing = 3e-3;
  b.line.part->length = 2.9e-3;
  CHECK(sentences(b.line) == "");
  b.line.part->width = 3.2e-3;
  CHECK(
      sentences(b.line) ==
      "nozzle: the part is 3.20 mm across, but the next nozzle is 3.00 mm from nozzle 'nozzle'; parts would touch.\n");
}

// One part on four cups is no fault of the line: it is said once, with what to do.
TEST_CASE("a part larger than the spacing of alike nozzles is told of once", "[study][property]") {
  Builder b;
  b.pump("pump", {{0, 6}, {60e3, 0}}).tee("manifold");
  for (const char* name : {"cup 1", "cup 2", "cup 3", "cup 4"}) {
    b.tube(std::string("hose of ") + name, 4e-3, 0.3).after("manifold").nozzle(name, 0.8e-3, 6e-3, 2e-3);
    b.line.elements.back().spacing = 60e-3;
  }
  b.part(1e-5, 5e-6);
  b.line.part->length = 0.2;
  const std::string way_out = "; parts would touch. Where they carry one part together, leave out 'spacing'.\n";
  const std::string across = "the part is 200.00 mm across, but the next nozzle is ";
  CHECK(sentences(b.line) == "cup 1: " + across + "60.00 mm from each of nozzles 'cup 1' to 'cup 4'" + way_out);
  b.line.elements.back().spacing = 50e-3;
  CHECK(sentences(b.line) == "cup 1: " + across + "60.00 mm from each of nozzles 'cup 1', 'cup 2' and 'cup 3'" +
                                 way_out + "cup 4: " + across + "50.00 mm from nozzle 'cup 4'" + way_out);
  for (line::Element& e : b.line.elements) e.spacing.reset();
  CHECK(sentences(b.line) == "");
}

TEST_CASE("an end that nothing follows", "[study][property]") {
  Builder b = plain();
  b.tube("stub", 2e-3, 0.1).after("hose");
  const std::string stub =
      "stub: nothing follows 'stub'; its end is taken as plugged. Add a plug to say so, or a nozzle.\n";
  CHECK(sentences(b.line) == stub);
  b.plug("end");
  CHECK(sentences(b.line) == "");
  Builder tee = plain();
  tee.tube("way", 2e-3, 0.1).after("hose").tee("stub");
  CHECK(sentences(tee.line) == stub);
  Builder store = plain();
  store.reservoir("store", 1e-4).after("hose");
  CHECK(sentences(store.line) == "");       // a reservoir may hang at an end
  CHECK(sentences(support::ring()) == "");  // merged ends are followed on the other side
}

TEST_CASE("a clearance beyond its law", "[study][property]") {
  // 0.1 mm on 5 mm diameter, 4 mm long: Re = 2 m/(pi d mu) > 1000 at some 0.14 g/s, which this pump takes.
  Builder b;
  b.pump("pump", {{0, 60}, {60e3, 0}})
      .tube("joint", 6e-3, 20e-3, line::Kind::rotary)
      .leak(support::clearance(100e-6, 5e-3, 4e-3))
      .nozzle("nozzle", 0.5e-3, 6e-3, 2e-3);
  const auto all = warnings(b.line);
  REQUIRE(all.size() == 1);
  CHECK(all[0].element == 1);
  CHECK(all[0].sentence.find("the clearance of 'joint' runs at Reynolds number ") == 0);
  CHECK(all[0].sentence.find(" with the tips open, beyond 1000 up to which flow in a gap is laminar; the true leak is "
                             "smaller than computed.") != std::string::npos);
  b.line.elements[1].leaks[0] = support::clearance(30e-6, 5e-3, 4e-3);
  CHECK(sentences(b.line) == "");
}

TEST_CASE("a choked bore", "[study][property]") {
  const auto all = warnings(support::thin_choked());
  REQUIRE(!all.empty());
  CHECK(all[0].sentence.find("'thin tube' is choked with the tips open: ") == 0);
  CHECK(all[0].sentence.find("; a stronger pump brings no more air through it.") != std::string::npos);
}

TEST_CASE("a gauge that is too short", "[study][property]") {
  Builder b = plain();
  line::Gauge gauge;
  gauge.range = 40e3;
  b.line.elements[1].gauge = gauge;
  const auto all = warnings(b.line);
  REQUIRE(all.size() == 1);
  CHECK(all[0].sentence.find("the gauge at 'hose' reads to 40.0 kPa, but the vacuum there is ") == 0);
  CHECK(all[0].sentence.find(" kPa with the part on.") != std::string::npos);
  b.line.elements[1].gauge->range = 100e3;
  CHECK(sentences(b.line) == "");
}

TEST_CASE("a nozzle that a closed valve cuts off", "[study][property]") {
  Builder b;
  b.pump("pump", {{0, 6}, {60e3, 0}})
      .tube("hose", 4e-3, 0.5)
      .valve("valve", 0.3, 0.35, line::ValveState::closed)
      .nozzle("nozzle", 0.8e-3, 6e-3, 2e-3);
  CHECK(sentences(b.line) ==
        "nozzle: a closed or venting valve cuts 'nozzle' off from every source; it has no vacuum.\n");
  b.line.elements[2].valve->state = line::ValveState::open;
  CHECK(sentences(b.line) == "");
}

TEST_CASE("check refuses the tables that cycle and sense would refuse, all at once", "[study][property]") {
  line::Line line = test::scenario("jewel-setter");
  CHECK_NOTHROW(warnings(line));
  line.cycle->place = 10e-3;
  line.cycle->where = {"bench.toml", 70, 1};
  line.sensor->at = "nozzle";
  line.sensor->at_where = {"bench.toml", 90, 6};
  CHECK_THROWS_WITH(warnings(line),
                    "bench.toml:70:1: [cycle]: place = 10 ms is before touch = 60 ms; a pick goes touch, lift, travel, "
                    "place, retract, with valve-on before the lift and release after it.\n"
                    "bench.toml:90:6: [sensor]: at = \"nozzle\" is a nozzle, whose tip-side end is the mouth on the "
                    "part; name the element before it.");
  line = test::scenario("jewel-setter");
  line.move->seal = line::SealAt::rim;
  line.elements.back().rim.reset();
  CHECK_THROWS_WITH(warnings(line), Catch::Contains("seal = \"rim\" needs the outer diameter"));
}

TEST_CASE("another part that no nozzle at hand closes on earns a warning", "[study][property]") {
  const line::Line line = test::scenario("jewel-setter");
  line::Part small = *line.part;
  small.name = "chip";
  small.length = small.width = units::Quantity(0.6e-3);
  const std::vector<line::Part> parts{*line.part, small};
  const std::vector<Warning> told = misfits(line, parts, {});
  REQUIRE(told.size() == 1);
  CHECK(told.front().sentence ==
        "of [[other-part]] 'chip': the part, 0.600 mm at its longest, is no larger than the bore of 'nozzle', 1.00 mm: "
        "it is sucked in; it does not hold.");
  line::Element fine = line.elements.back();
  fine.restriction = line::Bore{0.3e-3, 6e-3, 0.0, 0.0};
  CHECK(misfits(line, parts, std::vector<line::Element>{fine}).empty());
}
