#include "laws/clipped.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "errors.hpp"
#include "laws/detection.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

double density(double u) { return std::exp(-0.5 * u * u) / std::sqrt(2.0 * std::numbers::pi); }

/// The integral of f(c) over x, of x normal, by the midpoint rule in 400,000 steps: of smooth stretches good to 1e-9.
template <typename Function>
double over_x(const Clipped& r, Function f) {
  constexpr int steps = 400'000;
  const double width = 24.0 / steps;
  double sum = 0.0;
  for (int i = 0; i < steps; ++i) {
    const double u = -12.0 + (i + 0.5) * width;
    sum += density(u) * f(std::clamp(r.mean + u * r.before, r.low, r.high)) * width;
  }
  return sum;
}

}  // namespace

TEST_CASE("a reading far from its limits is a normal one", "[clipped][closed-form]") {
  const Clipped free{5.0, 0.3, 0.4, -100.0, 100.0};
  CHECK(is_free(free));
  CHECK_THAT(clipped_mean(free), WithinRel(5.0, 1e-14));
  CHECK_THAT(clipped_deviation(free), WithinRel(0.5, 1e-14));
  CHECK_THAT(share_above(free, 6.0), WithinRel(upper_tail(2.0), 1e-14));
  CHECK_THAT(share_below(free, 4.0), WithinRel(upper_tail(2.0), 1e-14));
}

TEST_CASE("a limit at the mean holds every second reading", "[clipped][closed-form]") {
  // clip(x) = min(x, 0): mean -f(0), and <c^2> = 1/2.
  const Clipped half{0.0, 1.0, 1e-9, -1e3, 0.0};
  CHECK_FALSE(is_free(half));
  CHECK_THAT(clipped_mean(half), WithinRel(-1.0 / std::sqrt(2.0 * std::numbers::pi), 1e-12));
  CHECK_THAT(clipped_deviation(half), WithinRel(std::sqrt(0.5 - 0.5 / std::numbers::pi), 1e-12));
  CHECK_THAT(share_above(half, -1e-6), WithinAbs(0.5, 1e-6));
  CHECK(share_above(half, 1e-6) < 1e-12);
  // All but held: nothing moves but what comes behind.
  const Clipped held{50.0, 1.0, 0.2, -1e3, 0.0};
  CHECK_THAT(clipped_mean(held), WithinAbs(0.0, 1e-12));
  CHECK_THAT(clipped_deviation(held), WithinRel(0.2, 1e-9));
  CHECK_THAT(share_above(held, 0.2), WithinRel(upper_tail(1.0), 1e-9));
}

TEST_CASE("mean, scatter and shares are those of the integral", "[clipped][agreement]") {
  for (const double after : {0.01, 0.3, 1.0, 5.0})
    for (const double mean : {-3.0, -0.5, 0.4, 2.0}) {
      const Clipped r{mean, 0.7, after, -1.0, 0.9};
      CAPTURE(mean, after);
      const double expected = over_x(r, [](double c) { return c; });
      CHECK_THAT(clipped_mean(r), WithinAbs(expected, 1e-8));
      const double square = over_x(r, [&](double c) { return (c - expected) * (c - expected); });
      CHECK_THAT(clipped_deviation(r), WithinRel(std::sqrt(square + after * after), 1e-7));
      for (const double threshold : {-1.2, -0.9, 0.0, 0.85, 1.0, 3.0}) {
        CAPTURE(threshold);
        const double above = over_x(r, [&](double c) { return upper_tail((threshold - c) / after); });
        CHECK_THAT(share_above(r, threshold), WithinAbs(above, 1e-8));
        CHECK_THAT(share_above(r, threshold) + share_below(r, threshold), WithinAbs(1.0, 1e-9));
      }
    }
}

TEST_CASE("a clipped reading needs scatter and room", "[clipped][property]") {
  CHECK_THROWS_AS(clipped_mean({0.0, 0.0, 1.0, -1.0, 1.0}), DomainError);
  CHECK_THROWS_AS(clipped_deviation({0.0, 1.0, 0.0, -1.0, 1.0}), DomainError);
  CHECK_THROWS_AS(share_above({0.0, 1.0, 1.0, 1.0, -1.0}, 0.0), DomainError);
}
