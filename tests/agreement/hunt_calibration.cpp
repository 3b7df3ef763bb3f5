#include <fmt/format.h>

#include <algorithm>
#include <ctime>
#include <stdexcept>

#include "agreement/hunt_proof.hpp"
#include "agreement/kinsol_bench.hpp"
#include "hunt/samples/sample.hpp"

namespace airtally::agreement {
namespace {

const char* word(hunt::Instrument instrument) {
  switch (instrument) {
    case hunt::Instrument::vacuum:
      return "gauge";
    case hunt::Instrument::plugged:
      return "loose gauge";
    case hunt::Instrument::current:
      return "ammeter";
    case hunt::Instrument::flow:
      return "flow meter";
    case hunt::Instrument::inflow:
      break;
  }
  return "log";
}

std::string name_of(const hunt::Suspects& suspects, const hunt::Unknown& unknown) {
  static constexpr const char* whats[] = {"leak",  "blockage",  "bore",        "seal",  "hole share",
                                          "plate", "pump flow", "pump vacuum", "offset"};
  return fmt::format("{} {}{}", suspects.line.elements[unknown.element].name, whats[static_cast<int>(unknown.what)],
                     unknown.what == hunt::What::offset ? std::string(" of ") + word(unknown.instrument) : "");
}

double median(std::vector<double> values) {
  if (values.empty()) return 0.0;
  std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2), values.end());
  return values[values.size() / 2];
}

}  // namespace

Calibration calibrate(const line::Line& line, int cases, std::uint64_t seed, int first) {
  const hunt::Bench bench;
  const std::vector<double> plates = {0.8e-3};
  const hunt::Suspects suspects = hunt::suspects(line, bench, plates);
  const std::size_t n = suspects.unknowns.size();
  const std::vector<hunt::Setting> settings = all_settings(line, plates.front());
  Calibration result;
  for (const hunt::Unknown& unknown : suspects.unknowns)
    result.quantities.push_back({name_of(suspects, unknown), std::vector<int>(Calibration::bins, 0), 0.0, 0});
  std::vector<double> effective, efficiency, evaluations;
  double clock = 0.0, peaks = 0.0;
  for (int c = first; c < first + cases; ++c) {
    study::Random random(seed * 1000003ULL + static_cast<std::uint64_t>(c));
    std::vector<double> z(n);
    for (double& value : z) value = normal(random);
    std::vector<hunt::Reading> readings;
    try {
      KinsolBench kinsol(suspects, bench, suspects.values(z));
      std::vector<std::size_t> taken;
      while (taken.size() < 6) {
        const std::size_t s = random.below(settings.size());
        if (std::find(taken.begin(), taken.end(), s) != taken.end()) continue;
        taken.push_back(s);
        for (const auto& [instrument, at] : instruments(line, settings[s]))
          readings.push_back(kinsol.read(settings[s], instrument, at, random));
      }
    } catch (const std::runtime_error&) {
      ++result.unsolved;
      continue;
    }
    const std::clock_t start = std::clock();
    hunt::Evidence evidence(suspects, readings, bench);
    hunt::SampleOptions options;
    options.seed = static_cast<std::uint64_t>(c) + 1;
    const std::vector<hunt::Mode> modes = hunt::find_modes(suspects, evidence);
    peaks += static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    const hunt::Samples samples = hunt::sample(suspects, readings, bench, modes, options);
    clock += static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    ++result.cases;
    if (!samples.converged()) {
      ++result.doubtful;
      result.doubts.push_back(fmt::format("case {}: {:.0f} effective, r-hat {:.3f}, efficiency {:.3f}, {} peaks", c,
                                          samples.effective, samples.r_hat, samples.efficiency, modes.size()));
    }
    effective.push_back(samples.effective);
    efficiency.push_back(samples.efficiency);
    evaluations.push_back(static_cast<double>(samples.evaluations));
    for (std::size_t k = 0; k < n; ++k) {
      double below = 0.0;
      for (std::size_t s = 0; s < samples.z.size(); ++s)
        if (samples.z[s][k] < z[k]) below += samples.weight[s];
      Calibration::Quantity& q = result.quantities[k];
      ++q.histogram[static_cast<std::size_t>(
          std::clamp(static_cast<int>(below * Calibration::bins), 0, Calibration::bins - 1))];
      q.inside += below >= 0.05 && below <= 0.95;
    }
  }
  double inside = 0.0;
  for (Calibration::Quantity& q : result.quantities) {
    const double expected = static_cast<double>(result.cases) / Calibration::bins;
    for (const int count : q.histogram) q.chi_square += (count - expected) * (count - expected) / expected;
    result.worst_chi_square = std::max(result.worst_chi_square, q.chi_square);
    inside += q.inside;
  }
  result.coverage = inside / std::max(1.0, static_cast<double>(result.cases) * static_cast<double>(n));
  result.median_effective = median(effective);
  result.median_efficiency = median(efficiency);
  result.median_evaluations = median(evaluations);
  result.seconds_of_peaks = peaks / std::max(result.cases, 1);
  result.seconds = clock / std::max(result.cases, 1);
  return result;
}

std::string text(const Calibration& c) {
  std::string out = fmt::format(
      "{} cases ({} not solved by KINSOL, {} said to be doubtful): coverage of the central 90 % {:.1f} %, worst "
      "chi-square {:.1f} with {} degrees\nmedians: {:.0f} effective samples, efficiency {:.2f}, {:.0f} evaluations; "
      "{:.2f} s of processor time each, {:.2f} s of it for the peaks\n",
      c.cases, c.unsolved, c.doubtful, 100.0 * c.coverage, c.worst_chi_square, Calibration::bins - 1,
      c.median_effective, c.median_efficiency, c.median_evaluations, c.seconds, c.seconds_of_peaks);
  for (const std::string& doubt : c.doubts) out += "doubtful: " + doubt + '\n';
  for (const Calibration::Quantity& q : c.quantities) {
    out += fmt::format("{:32} {:5.1f} %  chi-square {:6.1f} ", q.name, 100.0 * q.inside / std::max(c.cases, 1),
                       q.chi_square);
    for (const int count : q.histogram) out += fmt::format(" {:3}", count);
    out += '\n';
  }
  return out;
}

}  // namespace airtally::agreement
