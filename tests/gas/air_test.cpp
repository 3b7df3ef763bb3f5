#include "gas/air.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "errors.hpp"
#include "gas/site.hpp"

using namespace airtally;
using Catch::Matchers::WithinRel;

TEST_CASE("the state of air is made of its viscosity and mean free path", "[gas][closed-form]") {
  const gas::Air air = gas::air_at(310.0);
  CHECK(air.temperature == 310.0);
  CHECK(air.rt == gas::R * 310.0);
  CHECK(air.viscosity == gas::viscosity(310.0));
  for (const double p : {20e3, 101325.0}) CHECK_THAT(gas::mean_free_path(p, 310.0) * p, WithinRel(air.slip, 1e-15));
}

TEST_CASE("viscosity is that of Sutherland's reference at the ice point and grows with temperature",
          "[gas][property]") {
  CHECK_THAT(gas::viscosity(273.15), WithinRel(1.716e-5, 1e-15));
  for (double t = 60.0; t < 1990.0; t += 10.0) CHECK(gas::viscosity(t + 10.0) > gas::viscosity(t));
}

TEST_CASE("gamma, R and cp agree", "[gas][closed-form]") {
  // cp = gamma R/(gamma - 1) = 1004.675; the rounded 1004.7 is used everywhere.
  CHECK_THAT(gas::gamma * gas::R / (gas::gamma - 1.0), WithinRel(gas::cp, 5e-5));
  CHECK_THAT(gas::cp / gas::cv, WithinRel(gas::gamma, 5e-5));
}

TEST_CASE("air outside its range is refused", "[gas][property]") {
  CHECK_THROWS_AS(gas::viscosity(49.0), DomainError);
  CHECK_THROWS_AS(gas::air_at(std::nan("")), DomainError);
  CHECK_THROWS_AS(gas::mean_free_path(0.0, 293.15), DomainError);
  CHECK_THROWS_AS(gas::sound_speed(0.0), DomainError);
  CHECK_THROWS_AS(gas::pressure_at_altitude(-1001.0), DomainError);
  CHECK_THROWS_AS(gas::pressure_at_altitude(11001.0), DomainError);
}
