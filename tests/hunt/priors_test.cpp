#include "hunt/beliefs/priors.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace airtally;
using namespace airtally::hunt;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const Prior priors[] = {{Prior::Shape::log_normal, 2.0, 1.5},
                        {Prior::Shape::range, 30e-6, 0.0, 20e-6, 40e-6, 3.0},
                        {Prior::Shape::wear, 0.1, 1.3},
                        {Prior::Shape::soft_wear, 0.02, 1.5, 0.0, 0.0, 1.0, 1.01},
                        {Prior::Shape::normal, 0.0, 250.0},
                        Prior{Prior::Shape::log_normal, 2.0, 1.5}.damaged(4.0),
                        Prior{Prior::Shape::log_normal, 0.95, 0.12}.damaged(-1.0),
                        Prior{Prior::Shape::range, 30e-6, 0.0, 20e-6, 40e-6, 3.0}.damaged(6.0),
                        Prior{Prior::Shape::range, 2e3, 0.0, 1e3, 4e3, -1.0}.damaged(-1.5)};

}  // namespace

TEST_CASE("slopes of priors agree with differences, and z_of undoes at", "[hunt][property]") {
  for (const Prior& prior : priors)
    for (double z = -3.0; z <= 3.0; z += 0.25) {
      CAPTURE(static_cast<int>(prior.shape), z);
      const double step = 1e-5;
      const double difference = (prior.at(z + step) - prior.at(z - step)) / (2.0 * step);
      CHECK_THAT(prior.slope(z), WithinAbs(difference, 1e-7 * std::fabs(prior.at(z)) + 1e-6 * std::fabs(difference)));
      CHECK_THAT(prior.z_of(prior.at(z)), WithinAbs(z, 1e-6));
    }
}

TEST_CASE("a tolerance in the file is the leak's prior", "[hunt][closed-form]") {
  line::Element joint;
  // 35 +- 5 um: a standard deviation of 2.5 um, the flow going with the cube: 3 * 2.5/35 in the logarithm.
  joint.leaks = {line::Clearance{units::Quantity::normal(35e-6, 5e-6), 5e-3, 4e-3}};
  CHECK_THAT(leak_prior(joint).spread, WithinRel(3.0 * 2.5 / 35.0, 1e-12));
  // The damaged do not move what most are: e^(6 0.15 ln(1 + e^(-0.75/0.15))) = 1.0061 at one standard deviation.
  // 20..45 um: at one standard deviation above, Phi(1) = 0.841345 of the way (standard normal table).
  joint.leaks = {line::Clearance{units::Quantity::uniform(20e-6, 45e-6), 5e-3, 4e-3}};
  CHECK_THAT(leak_prior(joint).at(1.0), WithinRel(1.0060611 * std::pow((20.0 + 25.0 * 0.841345) / 32.5, 3.0), 1e-5));
  // A hole of 0.1 mm +- 0.02 mm: flow with the square.
  joint.leaks = {line::Hole{units::Quantity::normal(0.1e-3, 0.02e-3)}};
  CHECK_THAT(leak_prior(joint).spread, WithinRel(0.2, 1e-12));
}

// 1 - Phi(1.75) = 0.04006 and 1 - Phi(3.0902) = 0.001 (standard normal table).
TEST_CASE("one in twenty-five is damaged, whatever the file's range says of the whole", "[hunt][closed-form]") {
  line::Element tee;
  tee.leaks = {line::RatedLeak{units::Quantity::uniform(1e-10, 1e-8), 60e3, false}};
  const Prior leak = leak_prior(tee);
  const double top = 1e-8 / 5.05e-9;  // of the range, over its middle
  CHECK(leak.at(1.0) < top);
  CHECK(leak.at(1.75) < 2.0 * top);
  CHECK_THAT(leak.at(3.0902), WithinRel(top * std::exp(6.0 * (3.0902 - 1.75)), 0.01));
  // The way there is the way back, far beyond the range too.
  CHECK_THAT(leak.z_of(1e3 * top), WithinAbs(1.75 + std::log(1e3) / 6.0, 0.02));
  // Of a pump a quarter is left, and it is never better than whole.
  const Prior pump = pump_flow_prior({});
  CHECK_THAT(pump.at(-3.0902), WithinRel(0.95 * std::exp(-0.12 * 3.0902 - 1.3402), 0.01));
  CHECK_THAT(pump.at(3.0), WithinRel(0.95 * std::exp(0.36), 1e-9));
}

TEST_CASE("a trap is mostly a tenth closed and can be closed far more than a nozzle; it leaks as a fitting does",
          "[hunt][property]") {
  const Prior trap = blockage_prior(line::Kind::trap), nozzle = blockage_prior(line::Kind::nozzle);
  CHECK_THAT(trap.at(0.0), WithinRel(std::exp(-0.1), 1e-12));
  CHECK(trap.at(-1.0) > nozzle.at(-1.0));
  CHECK(trap.at(1.5) < nozzle.at(1.5));
  CHECK(healthy_leak(line::Kind::trap).median == healthy_leak(line::Kind::coupler).median);
}
