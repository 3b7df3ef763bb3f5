#include "study/turns.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "study/random.hpp"

using namespace airtally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using std::numbers::pi;

namespace {

constexpr double degree = pi / 180.0;

study::TurningJob job_of(std::optional<double> limit, double carry = 0.0, double back = 0.0) {
  return {{}, limit, std::nullopt, {20.0, 800.0}, carry, back};
}

double late(double turn, const study::TurningJob& job, double hidden) {
  return std::max(0.0, laws::turning_time(turn, job.motor).time - hidden);
}

/// The least time beyond the travel over every way to begin at a whole degree within the limit and to end a whole
/// number of turns from the wanted angle; what next_turn() must not be worse than.
double brute_force(const study::TurningJob& job, double at, double angle) {
  double best = std::numeric_limits<double>::infinity();
  const double limit = *job.limit;
  for (int from = -2000; from <= 2000; ++from) {
    const double begin = from * degree;
    if (std::abs(begin) > limit + 1e-9) continue;
    if (job.pick && std::abs(std::remainder(begin - *job.pick, 2 * pi)) > 1e-9) continue;
    for (int k = -6; k <= 6; ++k) {
      const double carried = angle + 2 * pi * k;
      if (std::abs(begin + carried) > limit + 1e-9) continue;
      best = std::min(best, late(begin - at, job, job.back) + late(carried, job, job.carry));
    }
  }
  return best;
}

/// Mean time of a turn that is evenly likely up to half a turn, in closed form.
double mean_time(const laws::TurningMotor& m) {
  const double corner = m.speed * m.speed / m.acceleration;
  const double slow = std::min(corner, pi);
  double sum = 4.0 / 3.0 * std::pow(slow, 1.5) / std::sqrt(m.acceleration);
  if (pi > corner) sum += (pi * pi - corner * corner) / (2 * m.speed) + (pi - corner) * m.speed / m.acceleration;
  return sum / pi;
}

}  // namespace

TEST_CASE("no way within the limit is better than the one taken", "[study][agreement]") {
  study::Random random(7);
  const auto whole_degree = [&](double span) { return std::floor((random.uniform() * 2 - 1) * span) * degree; };
  for (int i = 0; i < 60; ++i) {
    study::TurningJob job =
        job_of((60.0 + std::floor(random.uniform() * 500)) * degree, 0.1 * random.uniform(), 0.1 * random.uniform());
    const double at = whole_degree(*job.limit / degree), angle = whole_degree(180);
    if (i % 3 == 0) job.pick = whole_degree(90);
    const auto turn = study::next_turn(job, at, angle);
    const double best = brute_force(job, at, angle);
    CAPTURE(*job.limit / degree, at / degree, angle / degree, job.pick.value_or(999.0));
    REQUIRE(turn.has_value() == std::isfinite(best));
    if (!turn) continue;
    CHECK_THAT(turn->late + turn->late_back, WithinAbs(best, 1e-8));
    CHECK(std::abs(turn->end) <= *job.limit + 1e-9);
    CHECK(std::abs(at + turn->back) <= *job.limit + 1e-9);
    CHECK_THAT(std::remainder(turn->carried - angle, 2 * pi), WithinAbs(0.0, 1e-9));
    CHECK_THAT(at + turn->back + turn->carried, WithinAbs(turn->end, 1e-9));
  }
}

TEST_CASE("what the travel hides costs nothing, however far the spindle turns", "[study][property]") {
  study::TurningJob job = job_of(200 * degree, 10.0, 10.0);
  job.angles = study::uniform_angles(500);
  const study::Turns all = study::turns(job);
  CHECK(all.late == 0.0);
  CHECK(all.late_back == 0.0);
  CHECK(all.unwinds > 0);
  CHECK(all.placements == 1000);
}

TEST_CASE("without a limit a uniform job turns for the mean time of half a turn", "[study][closed-form]") {
  for (const double acceleration : {800.0, 50.0}) {  // the speed is reached, and is not
    study::TurningJob job = job_of(std::nullopt);
    job.motor.acceleration = acceleration;
    job.angles = study::uniform_angles(20000);
    const study::Turns all = study::turns(job);
    // 20,000 draws: the mean is good to 0.3 % (one standard deviation), times three.
    CHECK_THAT(all.carried, WithinRel(pi / 2, 0.012));
    CHECK_THAT(all.late, WithinRel(mean_time(job.motor), 0.012));
    CHECK(all.back == 0.0);
    CHECK(all.unwinds == 0);
  }
}

// Within a quarter turn either way only the short way is ever within reach, and the spindle's angle is a random walk
// that is stopped at both ends: x' = clamp(x + s), s even over (-2 L, 2 L). Its resting distribution is even inside
// with weight 1/2 and stands at each end with weight 1/4, since every x inside is reached with density 1/(4 L) from
// everywhere. From x it has to turn back by ((L + x)^2 + (L - x)^2)/(8 L) on average, so by 5 L/12 all in all, and does
// so in half of all cases.
TEST_CASE("within a quarter turn either way half of all uniform placements unwind, by 75 degrees",
          "[study][closed-form]") {
  study::TurningJob job = job_of(pi / 2);
  job.angles = study::uniform_angles(40000);
  const study::Turns all = study::turns(job);
  const auto n = static_cast<double>(all.placements);
  CHECK(all.unreachable == 0);
  CHECK_THAT(static_cast<double>(all.unwinds) / n, WithinAbs(0.5, 0.01));
  CHECK_THAT(all.back, WithinRel(5.0 / 12.0 * pi / 2, 0.02));
  CHECK_THAT(all.carried, WithinRel(pi / 2, 0.01));
  CHECK_THAT(all.farthest, WithinRel(pi / 2, 1e-9));
}

TEST_CASE("a fixed angle of picking makes every turn come back", "[study][closed-form]") {
  for (const auto limit : {std::optional<double>(), std::optional<double>(pi)}) {
    study::TurningJob job = job_of(limit);
    job.pick = 0.0;
    job.angles = study::uniform_angles(20000);
    const study::Turns all = study::turns(job);
    CHECK_THAT(all.late, WithinRel(mean_time(job.motor), 0.012));
    CHECK_THAT(all.late_back, WithinRel(mean_time(job.motor), 0.012));
  }
}

TEST_CASE("an angle beyond all reach is left out and counted", "[study][property]") {
  study::TurningJob job = job_of(100 * degree);
  job.pick = 0.0;
  job.angles = {90 * degree, 150 * degree};
  const study::Turns all = study::turns(job, 10);
  CHECK(all.placements == 5);
  CHECK(all.unreachable == 5);
}

TEST_CASE("looser limits never take longer, and a very loose one is none", "[study][property]") {
  study::TurningJob job = job_of(std::nullopt);
  job.angles = study::uniform_angles(3000);
  const study::Turns free = study::turns(job);
  double before = std::numeric_limits<double>::infinity();
  for (const double limit : {0.5, 1.0, 2.0, 4.0, 400.0}) {
    job.limit = limit * pi;
    const study::Turns all = study::turns(job);
    CAPTURE(limit);
    CHECK(all.late + all.late_back <= before * 1.01);
    before = all.late + all.late_back;
  }
  CHECK_THAT(before, WithinRel(free.late + free.late_back, 1e-9));
}
