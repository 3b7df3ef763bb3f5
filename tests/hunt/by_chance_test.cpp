#include "hunt/next/by_chance.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "hunt/next/information.hpp"
#include "study/random.hpp"

using namespace airtally::hunt;
using Catch::Matchers::WithinAbs;

namespace {

struct Drawn {
  std::vector<std::vector<double>> readings;
  std::vector<std::size_t> worst;
  std::vector<double> weight;
};

/// `count` samples of four elements in turn, weights of all sizes.
Drawn drawn_samples(std::size_t count, std::uint64_t seed) {
  airtally::study::Random random(seed);
  Drawn all;
  all.readings.resize(2);
  double sum = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    all.worst.push_back(i % 4);
    all.weight.push_back(0.1 + random.uniform());
    sum += all.weight.back();
    for (auto& reading : all.readings) reading.push_back(1000.0 * random.uniform());
  }
  for (double& w : all.weight) w /= sum;
  return all;
}

double seeming(const Drawn& s, const std::vector<double>& noise) {
  return information_of(s.readings.front(), s.worst, s.weight, noise.front(), 4, false).bits +
         bits_beyond_first(s.readings, s.worst, s.weight, noise, 4);
}

}  // namespace

TEST_CASE("readings that have nothing to do with the fault tell nothing, however few the samples", "[hunt][property]") {
  const std::vector<double> noise{10.0, 10.0};
  double left = 0.0, seemed = 0.0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const Drawn s = drawn_samples(60, seed);
    const double bits = seeming(s, noise);
    seemed += bits / 20.0;
    left += beyond_chance(s.readings, s.worst, s.weight, noise, 4, bits) / 20.0;
  }
  CHECK(seemed > 0.25);  // what sixty samples feign
  CHECK(left < 0.07);    // of the scatter about nothing the half below 0 is cut off
  CHECK(left < 0.25 * seemed);
}

TEST_CASE("readings that settle the question keep all of it", "[hunt][closed-form]") {
  Drawn s = drawn_samples(60, 3);
  const std::vector<double> noise{10.0, 10.0};
  for (std::size_t i = 0; i < 60; ++i) s.readings[0][i] = 400.0 * static_cast<double>(s.worst[i]);
  double all = 0.0, share[4] = {};
  for (std::size_t i = 0; i < 60; ++i) share[s.worst[i]] += s.weight[i];
  for (double p : share) all -= p * std::log2(p);
  const double bits = seeming(s, noise);
  CHECK_THAT(bits, WithinAbs(all, 1e-3));
  CHECK_THAT(beyond_chance(s.readings, s.worst, s.weight, noise, 4, bits), WithinAbs(all, 2e-3));
}

TEST_CASE("with many samples there is little to take off", "[hunt][property]") {
  // Two elements two standard deviations apart: 0.4859 bits, see information_test.cpp.
  airtally::study::Random random(9);
  Drawn s;
  s.readings.resize(1);
  for (std::size_t i = 0; i < 3000; ++i) {
    s.worst.push_back(i % 2);
    s.weight.push_back(1.0 / 3000.0);
    s.readings[0].push_back(i % 2 ? 2.0 : 0.0);
  }
  CHECK_THAT(beyond_chance(s.readings, s.worst, s.weight, std::vector<double>{1.0}, 2, 0.4859),
             WithinAbs(0.4859, 2e-3));
}

TEST_CASE("where one element is the worst in all samples there is nothing to tell", "[hunt][degenerate]") {
  Drawn s = drawn_samples(40, 5);
  std::fill(s.worst.begin(), s.worst.end(), 2);
  CHECK(beyond_chance(s.readings, s.worst, s.weight, std::vector<double>{10.0, 10.0}, 4, 0.0) == 0.0);
}
