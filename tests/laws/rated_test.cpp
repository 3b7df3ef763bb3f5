#include "laws/rated.hpp"

#include <catch2/catch.hpp>

#include "errors.hpp"
#include "support/air.hpp"
#include "support/slopes.hpp"

using namespace airtally;
using namespace airtally::laws;
using Catch::Matchers::WithinRel;

TEST_CASE("a rated path is odd, monotone and has true slopes", "[laws][property]") {
  const support::Law law = [](const Ends& ends) { return rated({1e-16}, ends); };
  support::check_law(law, law, 31, 100);
}

TEST_CASE("a rated path gives back its rating, and twice that in parallel", "[laws][closed-form]") {
  const double m = 3e-7;
  const Rated path = rated_from(m, 101325.0, 50e3);
  CHECK_THAT(rated(path, {101325.0, 50e3}).m, WithinRel(m, 1e-14));
  CHECK_THAT(rated({2.0 * path.k}, {101325.0, 50e3}).m, WithinRel(2.0 * m, 1e-14));
}

TEST_CASE("a conductance from a rating gives it back, choked or not", "[laws][closed-form]") {
  using support::air;
  for (const double p2 : {10e3, 90e3, 101.3e3}) {
    CAPTURE(p2);
    CHECK_THAT(conductance(conductance_from(2e-6, 101325.0, p2), {101325.0, p2}, air).m, WithinRel(2e-6, 1e-14));
  }
  CHECK(conductance_from(2e-6, 101325.0, 10e3).b == 0.528);
}

TEST_CASE("a measurement that is none is refused", "[laws][property]") {
  CHECK_THROWS_AS(rated_from(1e-6, 5e4, 5e4), DomainError);
  CHECK_THROWS_AS(rated_from(-1e-6, 1e5, 5e4), DomainError);
  CHECK_THROWS_AS(rated_from(1e-6, 1e5, 0.0), DomainError);
  CHECK_THROWS_AS(conductance_from(1e-6, 5e4, 1e5), DomainError);
  CHECK_THROWS_AS(rated({-1.0}, {1e5, 9e4}), DomainError);
  CHECK_THROWS_AS(rated({1e-16}, {1e5, -9e4}), DomainError);
}
