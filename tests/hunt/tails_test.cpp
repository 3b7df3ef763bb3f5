// What the samples say of the tails, against steps on the line itself.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "hunt/samples/sample.hpp"
#include "read/line_file.hpp"
#include "solve/answer.hpp"
#include "study/random.hpp"

using namespace airtally;
using namespace airtally::hunt;

namespace {

using Points = std::vector<std::vector<double>>;

/// Metropolis steps on the line's own posterior, without any stand-in: differences of two points of an archive that
/// stays as it is, or one unknown drawn anew from its prior; both are the same there and back (ter Braak and Vrugt,
/// Stat. Comput. 18 (2008) 435). Every tenth state is kept.
Points walked(Evidence& evidence, const Points& archive, int steps, std::uint64_t seed) {
  study::Random random(seed);
  const auto normal = [&] {
    return std::sqrt(-2.0 * std::log1p(-random.uniform())) * std::cos(6.283185307179586 * random.uniform());
  };
  const std::size_t n = archive.front().size();
  std::vector<double> r(evidence.size());
  const auto log_likelihood = [&](const std::vector<double>& z) {
    if (!evidence.evaluate(z, r, {})) return -1e300;
    double sum = 0.0;
    for (double value : r) sum -= 0.5 * value * value;
    return sum;
  };
  std::vector<double> here = archive.front();
  double likelihood = log_likelihood(here);
  Points kept;
  for (int step = 0; step < steps; ++step) {
    std::vector<double> there = here;
    double prior = 0.0;
    if (random.uniform() < 0.2) {
      there[random.below(n)] = normal();
    } else {
      const std::vector<double>&a = archive[random.below(archive.size())], &b = archive[random.below(archive.size())];
      const double share = random.uniform() < 0.15 ? 1.0 : 0.36;
      for (std::size_t k = 0; k < n; ++k) {
        there[k] += share * (a[k] - b[k]) + 1e-4 * normal();
        prior -= 0.5 * (there[k] * there[k] - here[k] * here[k]);
      }
    }
    const double then = log_likelihood(there);
    if (std::log1p(-random.uniform()) < then - likelihood + prior) {
      here = std::move(there);
      likelihood = then;
    }
    if (step % 10 == 9) kept.push_back(here);
  }
  return kept;
}

double share_above(const Points& z, const std::vector<double>& weight, std::size_t k, double limit) {
  double sum = 0.0;
  for (std::size_t s = 0; s < z.size(); ++s)
    if (z[s][k] > limit) sum += weight.empty() ? 1.0 / static_cast<double>(z.size()) : weight[s];
  return sum;
}

}  // namespace

// The head hose may be clogged though no peak of the posterior has it so: the peak has it clear, and from there the
// readings seem to forbid it, unless the valve and the joint give way in a bent course.
TEST_CASE("a tail that no peak tells of is sampled all the same", "[hunt][agreement][slow]") {
  line::Line line = read::read_line(std::string(AIRTALLY_LINES) + "/jewel-setter.toml");
  // The readings are of a joint whose leak is friction alone: 2.6 L/min at 60 kPa, known as exactly as its clearance.
  line.elements[*line::find(line, "rotary joint")].leaks = {line::RatedLeak{5.148e-5, 60e3}};
  const std::size_t gauge = *line::find(line, "gauge tee"), pump = *line::find(line, "pump");
  std::vector<Reading> readings;
  const auto read = [&](const char* cap, double hole, double vacuum, double current) {
    Reading reading;
    reading.setting = {cap ? line::find(line, cap) : std::nullopt, hole, solve::usual_tips(line)};
    reading.at = gauge;
    reading.value = vacuum;
    readings.push_back(reading);
    reading.instrument = Instrument::current;
    reading.at = pump;
    reading.value = current;
    readings.push_back(reading);
  };
  read("spindle", 0.8e-3, 17700.0, 0.26832);
  read("valve", 0.8e-3, 25900.0, 0.29406);
  read("gauge tee", 0.0, 68800.0, 0.38844);
  read("spindle", 0.0, 26000.0, 0.29328);
  read("head hose", 0.0, 68900.0, 0.38766);
  read(nullptr, 0.0, 26000.0, 0.29406);
  const Suspects all = suspects(line, {});
  Evidence evidence(all, readings, {});
  const std::vector<Mode> modes = find_modes(all, evidence);
  std::size_t k = 0;
  while (all.unknowns[k].what != What::blockage || all.unknowns[k].element != *line::find(line, "head hose")) ++k;

  SampleOptions options;
  const Samples with = sample(all, readings, {}, modes, options);
  options.tails = false;
  const Samples without = sample(all, readings, {}, modes, options);
  // Two such walks of 1,200,000 steps have 0.27 and 0.24 above 1.2, 0.11 and 0.09 above 1.6; this one is a quarter of
  // their length. The samples' 250 effective ones add 0.03.
  const Points reference = walked(evidence, with.z, 300000, 11);
  for (const double limit : {0.8, 1.2, 1.6}) {
    const double truth = share_above(reference, {}, k, limit), found = share_above(with.z, with.weight, k, limit);
    CAPTURE(limit, truth, found);
    CHECK(std::fabs(found - truth) < 0.13);
    CHECK(found > 0.5 * truth);
  }
  CHECK(share_above(without.z, without.weight, k, 1.6) < 0.01);
  CHECK(with.converged());
  CHECK(without.converged());  // no weight tells of what nobody drew
}
