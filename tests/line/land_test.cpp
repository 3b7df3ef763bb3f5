// How far under a part air has to creep: as far as the rim goes, or the part where that ends first.
#include "line/land.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "lines/lines.hpp"
#include "solve/network.hpp"
#include "study/question.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;

namespace {

/// The jewel setter, a 1 mm bore with a 1.8 mm rim, and a part of that size.
line::Line sized(std::optional<double> length, std::optional<double> width) {
  line::Line line = test::scenario("jewel-setter");
  line.part->length = line.part->width = std::nullopt;
  if (length) line.part->length = units::Quantity(*length);
  if (width) line.part->width = units::Quantity(*width);
  return line;
}

const line::Element& nozzle_of(const line::Line& line) {
  return line.elements[line::all_of(line, line::Kind::nozzle).front()];
}

double outer(const line::Line& line) { return line::land_outer(line, nozzle_of(line)).value(); }

/// Flow [kg/s] under the part at a vacuum behind it so small that all of that is friction.
double seal_flow(const line::Line& line) {
  const line::Topology topology = line::topology(line);
  const solve::Network network(line, topology, solve::all_tips(line, solve::TipState::part));
  for (const solve::Path& path : network.paths)
    if (const auto* face = std::get_if<laws::FaceGap>(&path.law))
      return laws::face_gap(*face, {101325.0, 101325.0 - 1e-3, 1e-3}, network.air).m;
  return 0.0;
}

}  // namespace

TEST_CASE("the land under a part ends with the rim or with the part", "[line][land]") {
  CHECK(outer(sized({}, {})) == 0.9e-3);
  CHECK(outer(sized(2e-3, 2e-3)) == 0.9e-3);
  CHECK(outer(sized(2e-3, 1.2e-3)) == 0.6e-3);
  CHECK(outer(sized(1.2e-3, {})) == 0.6e-3);
  // A part that does not even span the bore closes nothing (line/seat.hpp); the rim is all there is to go by.
  CHECK(outer(sized(2e-3, 0.9e-3)) == 0.9e-3);
  line::Line bare = sized(1.2e-3, {});
  for (line::Element& e : bare.elements) e.rim.reset();
  CHECK_FALSE(line::land_outer(bare, nozzle_of(bare)));
}

TEST_CASE("a part that ends on the rim leaks by the logarithm of the land's radii more", "[line][land][closed-form]") {
  // Radial creeping flow, m ~ 1/ln(ro/ri): from 0.9 mm to 0.6 mm about a bore of 0.5 mm in radius.
  const double more = seal_flow(sized(2e-3, 1.2e-3)) / seal_flow(sized(2e-3, 2e-3));
  CHECK_THAT(more, WithinRel(std::log(0.9 / 0.5) / std::log(0.6 / 0.5), 1e-9));
}

TEST_CASE("the sides of a part are drawn where it ends on a rim, and not elsewhere", "[line][land]") {
  const auto says = [](const line::Line& line) {
    const auto none = study::no_say_in_flow(line);
    return std::find(none.begin(), none.end(), "part.width") == none.end();
  };
  CHECK(says(sized(2e-3, 1.2e-3)));
  CHECK_FALSE(says(sized(2e-3, 2e-3)));
}
