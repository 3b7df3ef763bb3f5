#include "hunt/samples/sample.hpp"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "hunt/bench.hpp"
#include "study/random.hpp"

using namespace airtally;
using namespace airtally::hunt;
using Catch::Matchers::WithinAbs;

namespace {

double normal(study::Random& random) {
  return std::sqrt(-2.0 * std::log1p(-random.uniform())) * std::cos(6.283185307179586 * random.uniform());
}

}  // namespace

// An independent way to the same posterior: draws from the prior, weighted by the likelihood. Coarse readings, so that
// enough of 60,000 draws count.
TEST_CASE("samples agree with weighted draws from the prior", "[hunt][agreement]") {
  line::Line line = tests::bench_line();
  line.elements[2].gauge->accuracy = 2e3;
  Bench bench;
  bench.gauge_repeatability = 6e3;
  const Suspects all = suspects(line, bench);
  const std::vector<Reading> readings{tests::capped(line, "tee", 66e3), tests::capped(line, "joint", 45e3),
                                      tests::capped(line, "nozzle", 46e3)};
  Evidence evidence(all, readings, bench);
  const std::size_t n = all.unknowns.size();

  study::Random random(17);
  std::vector<double> mean(n, 0.0), square(n, 0.0), z(n), r(readings.size());
  double total = 0.0, squares = 0.0;
  for (int draw = 0; draw < 60000; ++draw) {
    for (double& value : z) value = normal(random);
    if (!evidence.evaluate(z, r, {})) continue;
    double log_likelihood = 0.0;
    for (double value : r) log_likelihood -= 0.5 * value * value;
    const double weight = std::exp(log_likelihood);
    total += weight;
    squares += weight * weight;
    for (std::size_t k = 0; k < n; ++k) {
      mean[k] += weight * z[k];
      square[k] += weight * z[k] * z[k];
    }
  }
  const double effective = total * total / squares;
  REQUIRE(effective > 300.0);

  const auto agrees = [&](const Samples& samples) {
    CHECK(samples.r_hat < 1.05);
    for (std::size_t k = 0; k < n; ++k) {
      double m = 0.0, s = 0.0;
      for (std::size_t i = 0; i < samples.z.size(); ++i) {
        m += samples.weight[i] * samples.z[i][k];
        s += samples.weight[i] * samples.z[i][k] * samples.z[i][k];
      }
      const double expected = mean[k] / total, second = square[k] / total;
      CAPTURE(k, expected, m, effective);
      // Four standard errors of both sides together; the largest of about 40 comparisons stays below that.
      const double error = std::sqrt(second - expected * expected) *
                           std::sqrt(1.0 / effective + 1.0 / std::max(samples.effective, 100.0));
      CHECK_THAT(m, WithinAbs(expected, 4.0 * error));
      CHECK_THAT(s, WithinAbs(second, 6.0 * error * std::max(1.0, std::fabs(expected))));
    }
  };
  SampleOptions options;
  options.count = 2048;
  const Samples samples = sample(all, readings, bench, find_modes(all, evidence), options);
  CHECK(samples.efficiency > 0.3);
  agrees(samples);
}

TEST_CASE("an ammeter with a hump leaves two states of the line", "[hunt][property]") {
  // 420 mA is drawn at 18 kPa and at 45 kPa alike: a big leak and a smaller one.
  line::Line line =
      tests::bench_line("current = [[\"0 kPa\", \"300 mA\"], [\"30 kPa\", \"480 mA\"], [\"71 kPa\", \"300 mA\"]]");
  line.elements[1].leaks = {line::RatedLeak{2.0 / 60e3 * 1.185, 60e3, false}};
  Reading reading = tests::capped(line, "hose", 0.42, "pump");
  reading.instrument = Instrument::current;
  const Suspects all = suspects(line, {});
  const std::vector<Reading> readings{reading};
  Evidence evidence(all, readings, {});
  /// Of the states by their weights: those with the smaller leak, with neither, with the big one.
  const auto shares = [&](const std::vector<std::vector<double>>& z, const std::vector<double>& weight) {
    std::array<double, 3> sum{};
    for (std::size_t i = 0; i < z.size(); ++i) {
      double leak = 0.0;
      for (std::size_t k = 0; k < z[i].size(); ++k)
        if (all.unknowns[k].what == What::leak && all.unknowns[k].element == 1)
          leak = all.unknowns[k].prior.at(z[i][k]) * all.leak_at_one[1];
      const double litres = leak / 1.185 * 60e3;
      sum[litres < 2.8 ? 0 : litres > 4.0 ? 2 : 1] += weight[i];
    }
    const double total = sum[0] + sum[1] + sum[2];
    return std::array{sum[0] / total, sum[1] / total, sum[2] / total};
  };
  const Samples samples = sample(all, readings, {}, find_modes(all, evidence), {});
  const auto [deep, between, shallow] = shares(samples.z, samples.weight);
  // The plainest way there is, which a single reading leaves a few draws to: the beliefs before it, weighed by it.
  Samples before = prior_sample(all, 100'000, 3);
  double residual = 0.0;
  for (std::size_t i = 0; i < before.z.size(); ++i)
    before.weight[i] = evidence.evaluate(before.z[i], {&residual, 1}, {}) ? std::exp(-0.5 * residual * residual) : 0.0;
  const auto [deep_by_prior, between_by_prior, shallow_by_prior] = shares(before.z, before.weight);
  CAPTURE(deep, between, shallow, deep_by_prior, shallow_by_prior);
  CHECK(samples.converged());
  CHECK(deep > 0.1);
  CHECK(shallow > 0.1);
  CHECK(between < (deep + shallow) / 4);
  CHECK_THAT(shallow, Catch::Matchers::WithinAbs(shallow_by_prior, 0.05));  // of some 950 effective draws: 0.013
}
