#include "laws/holding.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "errors.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const Grip grip{0.785e-6, 0.5e-3, 0.9e-3, 0.3};
const Body centred{20e-6, 0.0, 0.3e-3, 0.5e-6};
const Body offset{20e-6, 0.2e-3, 0.3e-3, 0.5e-6};

}  // namespace

TEST_CASE("a part at rest needs only its weight with safety", "[laws][holding][closed-form]") {
  const NeededForce needed = needed_force(centred, grip, {}, {2.0, 4.0});
  CHECK_THAT(needed.lift, WithinRel(2.0 * 20e-6 * 9.80665, 1e-14));
  CHECK_THAT(needed.tilt, WithinRel(needed.lift, 1e-14));
  CHECK(needed.slide == 0.0);
}

TEST_CASE("needed forces are the sums of their moments", "[laws][holding][closed-form]") {
  // By hand for 20 mg, r = 0.2 mm, R = 0.9 mm, c = 0.3 mm, travel 10 m/s2, lift 5 m/s2, no spin:
  //   lift 2 x 20e-6 x 14.80665 = 592.266 uN; tilting at lift: times (1 + 2/9) = 723.881 uN
  //   friction radius 2/3 (0.729 - 0.125)/(0.81 - 0.25) mm = 0.7190476 mm; torque 20e-6 x 10 x 0.2e-3 = 4e-8 N m
  //   slide 4 (196.133 + (200 + 55.6291)/0.3) uN = 4192.92 uN
  //   tilting in travel 4 (196.133 x 11/9 + 200/3) uN = 1225.54 uN
  const NeededForce needed = needed_force(offset, grip, {5.0, 10.0, 0.0, 0.0}, {2.0, 4.0});
  CHECK_THAT(needed.lift, WithinRel(592.266e-6, 1e-6));
  CHECK_THAT(needed.slide, WithinRel(4192.92e-6, 2e-6));
  CHECK_THAT(needed.tilt, WithinRel(1225.54e-6, 4e-6));
  CHECK_THAT(needed_force(offset, grip, {5.0, 0.0, 0.0, 0.0}, {2.0, 4.0}).tilt, WithinRel(723.881e-6, 1e-6));
}

TEST_CASE("a spindle at constant speed throws an offset part outwards", "[laws][holding][closed-form]") {
  // 600 rpm at 0.2 mm: w^2 r = (20 pi)^2 0.2e-3 = 0.789568 m/s2, the same as that much travel of a part on the axis.
  const double w = 20.0 * std::numbers::pi;
  const NeededForce turned = needed_force(offset, grip, {0.0, 0.0, w, 0.0}, {2.0, 4.0});
  const NeededForce pushed = needed_force(centred, grip, {0.0, 0.789568, 0.0, 0.0}, {2.0, 4.0});
  CHECK_THAT(turned.slide, WithinRel(pushed.slide, 1e-6));
  CHECK(needed_force(centred, grip, {0.0, 0.0, w, 0.0}, {2.0, 4.0}).slide == 0.0);
  CHECK_THAT(needed_force(offset, grip, {0.0, 0.0, -w, 0.0}, {2.0, 4.0}).slide, WithinRel(turned.slide, 1e-14));
}

TEST_CASE("a spindle that starts must drag the part's own inertia round", "[laws][holding][closed-form]") {
  // Centred: torque m k2 e = 20e-6 x 0.5e-6 x 1000 = 1e-8 N m at 0.7190476 mm: 13.9073 uN along the rim.
  const NeededForce needed = needed_force(centred, grip, {0.0, 0.0, 0.0, 1000.0}, {2.0, 4.0});
  CHECK_THAT(needed.slide, WithinRel(4.0 * (196.133e-6 + 13.9073e-6 / 0.3), 1e-5));
}

TEST_CASE("friction of a ring acts at its radius, of a disc at two thirds", "[laws][holding][closed-form]") {
  CHECK_THAT(friction_radius(1.0, 1.0), WithinRel(1.0, 1e-15));
  CHECK_THAT(friction_radius(0.0, 3.0), WithinRel(2.0, 1e-15));
  CHECK_THAT(friction_radius(0.5, 0.9), WithinRel(2.0 / 3.0 * (0.729 - 0.125) / (0.81 - 0.25), 1e-14));
}

TEST_CASE("needs grow with every load and in proportion to the mass", "[laws][holding][property]") {
  const Motion base{3.0, 4.0, 20.0, 100.0};
  const NeededForce at = needed_force(offset, grip, base, {2.0, 4.0});
  const auto not_less = [&](const Body& body, const Motion& motion, const Safety& safety) {
    const NeededForce more = needed_force(body, grip, motion, safety);
    CHECK(more.lift >= at.lift);
    CHECK(more.slide >= at.slide);
    CHECK(more.tilt >= at.tilt);
  };
  not_less(offset, {6.0, 4.0, 20.0, 100.0}, {2.0, 4.0});
  not_less(offset, {3.0, 8.0, 20.0, 100.0}, {2.0, 4.0});
  not_less(offset, {3.0, 4.0, 40.0, 100.0}, {2.0, 4.0});
  not_less(offset, {3.0, 4.0, 20.0, 200.0}, {2.0, 4.0});
  not_less(offset, base, {3.0, 5.0});
  Body other = offset;
  other.offset *= 2.0;
  not_less(other, base, {2.0, 4.0});
  other = offset;
  other.depth *= 2.0;
  not_less(other, base, {2.0, 4.0});
  other = offset;
  other.mass *= 3.0;
  const NeededForce heavy = needed_force(other, grip, base, {2.0, 4.0});
  CHECK_THAT(heavy.lift, WithinRel(3.0 * at.lift, 1e-14));
  CHECK_THAT(heavy.slide, WithinRel(3.0 * at.slide, 1e-14));
  CHECK_THAT(heavy.tilt, WithinRel(3.0 * at.tilt, 1e-14));
}

TEST_CASE("a grip without size or friction is refused", "[laws][holding][property]") {
  CHECK_THROWS_AS(needed_force({0.0, 0, 0, 0}, grip, {}, {}), DomainError);
  CHECK_THROWS_AS(needed_force(centred, {1e-6, 0.0, 0.0, 0.3}, {}, {}), DomainError);
  CHECK_THROWS_AS(needed_force(centred, {1e-6, 1e-3, 0.5e-3, 0.3}, {}, {}), DomainError);
  CHECK_THROWS_AS(needed_force(centred, {1e-6, 0.1e-3, 0.5e-3, 0.0}, {}, {}), DomainError);
}
