#include "hunt/next/information.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "hunt/fit/quality.hpp"
#include "hunt/samples/convergence.hpp"
#include "study/random.hpp"

using namespace airtally::hunt;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("a reading that tells two elements apart for sure is worth one bit", "[hunt][closed-form]") {
  std::vector<double> reading, weight(400, 1.0 / 400.0);
  std::vector<std::size_t> worst;
  airtally::study::Random random(3);
  for (std::size_t i = 0; i < 400; ++i) {
    worst.push_back(i % 2);
    reading.push_back((i % 2 ? 50e3 : 60e3) + 200.0 * random.uniform());
  }
  const Information sure = information_of(reading, worst, weight, 60.0, 3, true);
  CHECK_THAT(sure.bits, WithinAbs(1.0, 1e-3));
  REQUIRE(sure.outcomes.size() == 2);
  CHECK(sure.outcomes[0].element == 1);
  CHECK(sure.outcomes[0].cleared == std::vector<std::size_t>{0});
  CHECK_THAT(sure.outcomes[0].chance, WithinAbs(0.5, 0.01));
  // And one that has nothing to do with them is worth nothing: what a finite number of samples feigns is small.
  for (double& value : reading) value = 55e3 + 1000.0 * random.uniform();
  CHECK(information_of(reading, worst, weight, 60.0, 3, false).bits < 0.03);
}

TEST_CASE("two elements a noise width apart are worth the bits of two normal distributions", "[hunt][closed-form]") {
  // Two equal normal distributions with means 2 standard deviations apart: 0.4859 bits. By quadrature of
  // h(mixture) - h(normal); the same integral is the capacity of a binary channel with noise at that distance (0.486,
  // standard curves of coded modulation at Es/N0 = 0 dB).
  std::vector<double> reading{0.0, 0.0, 2.0, 2.0}, weight(4, 0.25);
  const std::vector<std::size_t> worst{0, 0, 1, 1};
  CHECK_THAT(information_of(reading, worst, weight, 1.0, 2, false).bits, WithinAbs(0.4859, 2e-3));
}

TEST_CASE("two readings that tell nothing alone tell by their difference", "[hunt][closed-form]") {
  // Both go with how strong the pump is; the fault moves one of them by two standard deviations of their difference. So
  // it is the case above again, 0.4859 bits, of which kernels as wide as the noise of a sum of normal distributions
  // keep all but what their own width takes.
  std::vector<std::vector<double>> readings(2);
  std::vector<double> weight(800, 1.0 / 800.0);
  std::vector<std::size_t> worst;
  airtally::study::Random random(7);
  for (std::size_t i = 0; i < 800; ++i) {
    const double pump = 1000.0 * random.uniform();
    worst.push_back(i % 2);
    readings[0].push_back(50e3 + pump);
    readings[1].push_back(40e3 + 1.1 * pump + 1e-4 * pump * pump + (i % 2 ? 2.0 * std::hypot(10.0, 12.0) : 0.0));
  }
  const double noise[] = {10.0, 10.0};
  CHECK(information_of(readings[0], worst, weight, 10.0, 2, false).bits < 0.03);
  CHECK(information_of(readings[1], worst, weight, 10.0, 2, false).bits < 0.03);
  CHECK_THAT(bits_beyond_first(readings, worst, weight, noise, 2), WithinAbs(0.4859, 0.05));
  // The same gauge once more is worth what its noise left open, here nothing; neither is one that has all told already.
  readings[1] = readings[0];
  CHECK(bits_beyond_first(readings, worst, weight, noise, 2) < 0.03);
  for (std::size_t i = 0; i < 800; ++i) readings[0][i] = i % 2 ? 50e3 : 60e3;
  CHECK(bits_beyond_first(readings, worst, weight, noise, 2) < 1e-9);
}

TEST_CASE("a fault that the test can't see is not seen by its rarer half", "[hunt][closed-form]") {
  // Two elements. The test shows the first in one case of five, at 100; else both read 0. Of the readings a tenth is
  // 100, and then it is the first for sure; of the rest, 4/9 are the first's, which leaves 0.99108 bits. Told: 1 - 0.9
  // * 0.99108 = 0.10803 bits. A kernel as wide as the first's samples together would tell 0.7 bit.
  std::vector<std::vector<double>> readings(2);
  std::vector<double> weight(400, 1.0 / 400.0);
  std::vector<std::size_t> worst;
  airtally::study::Random random(13);
  for (std::size_t i = 0; i < 400; ++i) {
    worst.push_back(i % 2);
    readings[0].push_back((i % 10 == 0 ? 100.0 : 0.0) + random.uniform());
    readings[1].push_back(1000.0 * random.uniform());
  }
  CHECK_THAT(information_of(readings[0], worst, weight, 1.0, 2, false).bits, WithinAbs(0.10803, 0.01));
  // And so where another instrument is read first, which knows nothing.
  std::swap(readings[0], readings[1]);
  const double noise[] = {10.0, 1.0};
  CHECK_THAT(bits_beyond_first(readings, worst, weight, noise, 2), WithinAbs(0.10803, 0.04));
}

TEST_CASE("chi-square has its tabulated upper points", "[hunt][literature]") {
  // NIST/SEMATECH e-Handbook, upper critical values at 5 %: 3.841, 5.991, 11.070, 18.307 for 1, 2, 5, 10 degrees.
  CHECK_THAT(chi_square_chance(3.841, 1), WithinAbs(0.05, 2e-5));
  CHECK_THAT(chi_square_chance(5.991, 2), WithinAbs(0.05, 2e-5));
  CHECK_THAT(chi_square_chance(11.070, 5), WithinAbs(0.05, 2e-5));
  CHECK_THAT(chi_square_chance(18.307, 10), WithinAbs(0.05, 2e-5));
}

TEST_CASE("populations that agree converge, those that don't are found out", "[hunt][property]") {
  airtally::study::Random random(5);
  std::vector<std::vector<double>> z;
  for (int i = 0; i < 800; ++i) z.push_back({random.uniform(), random.uniform() + random.uniform()});
  const Convergence good = convergence_of(z, 4);
  CHECK(good.r_hat < 1.03);
  CHECK(good.effective > 150.0);
  for (int i = 0; i < 200; ++i) z[static_cast<std::size_t>(i)][1] += 1.0;
  const Convergence bad = convergence_of(z, 4);
  CHECK(bad.r_hat > 1.3);
  CHECK(bad.effective < 30.0);
}

TEST_CASE("an element with next to no weight leaves the bits finite", "[hunt][property]") {
  // Its share times a density is below the smallest double.
  const double reading[] = {1.0, 1.1, 5.0}, weight[] = {0.5, 0.5, 1e-310};
  const std::size_t worst[] = {0, 0, 1};
  const double bits = information_of(reading, worst, weight, 0.1, 2, false).bits;
  CHECK(std::isfinite(bits));
  CHECK(bits < 1e-6);
}

// Two dozen that are alike: among six samples of a stretch one is the likeliest by luck, and others are missed by luck.
TEST_CASE("no one is named or cleared by the luck of a few samples", "[hunt][property]") {
  Outcome outcome{60e3, 70e3, 3, 0.65, 0.2, 4.0, {}};
  CHECK_FALSE(names_one(outcome));
  outcome.samples = 40.0;
  CHECK(names_one(outcome));
  outcome.probability = 1.0;
  outcome.samples = 1.0;
  CHECK_FALSE(names_one(outcome));
  outcome.probability = 0.49;
  outcome.samples = 1e6;
  CHECK_FALSE(names_one(outcome));

  // Elements 0 to 4, each the worst in a fifth; of what lies at 10 a few samples say that it is 0, or many do.
  const auto cleared = [](std::size_t many) {
    std::vector<double> reading, weight;
    std::vector<std::size_t> worst;
    for (std::size_t element = 0; element < 5; ++element)
      for (std::size_t i = 0; i < many; ++i) {
        reading.push_back(element == 0 ? 10.0 : 0.0);
        worst.push_back(element);
        weight.push_back(1.0 / static_cast<double>(5 * many));
      }
    return information_of(reading, worst, weight, 0.1, 5, true).outcomes.back().cleared.size();
  };
  CHECK(cleared(4) == 0);
  CHECK(cleared(100) == 4);
}
