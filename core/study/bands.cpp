#include "study/bands.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "errors.hpp"
#include "study/attempted_private.hpp"
#include "study/spare.hpp"

namespace airtally::study {
namespace {

/// The value at the fraction `p` of sorted values.
double quantile(const std::vector<double>& sorted, double p) {
  const double place =
      std::clamp(p * static_cast<double>(sorted.size()) - 0.5, 0.0, static_cast<double>(sorted.size() - 1));
  const auto below = static_cast<std::size_t>(place);
  const double beyond = place - static_cast<double>(below);
  // Towards a value that is infinite everything is.
  if (below + 1 >= sorted.size() || beyond == 0.0 || std::isinf(sorted[below])) return sorted[below];
  return sorted[below] + beyond * (sorted[below + 1] - sorted[below]);
}

/// Draws lines and asks them. One that can't be solved has no number anywhere.
class Asker {
 public:
  Asker(const line::Line& line, const LineModel& model, std::size_t outputs)
      : line_(line), model_(model), outputs_(outputs) {}

  /// Whether the line drawn at `u` could be solved. Safe from several threads.
  bool ask(std::span<const double> u, std::span<double> out) {
    bool solved = true;
    const auto make = [this] { return std::make_unique<line::Sampler>(line_); };
    samplers_.lend(make, [&](line::Sampler& sampler) {
      solved = attempted([&] { model_(sampler.at(u), out); });
      if (!solved) std::fill(out.begin(), out.end(), nothing);
    });
    return solved;
  }

  /// What is wrong with all lines is no matter of draws: says it of the one drawn at `u`.
  void insist(std::span<const double> u) const {
    std::vector<double> out(outputs_, nothing);
    try {
      model_(line::sampled(line_, u), out);
    } catch (const NoConvergence&) {  // all of them, which is said better
    }
  }

 private:
  const line::Line& line_;
  const LineModel& model_;
  std::size_t outputs_;
  Spare<line::Sampler> samplers_;
};

}  // namespace

Band band_of(std::vector<double> values) {
  std::erase_if(values, [](double v) { return std::isnan(v); });
  if (values.empty()) return {};
  std::sort(values.begin(), values.end());
  return {quantile(values, 0.5), quantile(values, 0.05), quantile(values, 0.95)};
}

void check_inputs(std::size_t inputs, const std::string& file) {
  if (inputs > most_inputs)
    throw BadInput(
        {file, 0, 0},
        fmt::format("{} values are not sure, more than the {} that bands can be drawn of; state some of them "
                    "exactly, or leave the bands out.",
                    inputs, most_inputs));
}

Bands bands(const line::Line& line, std::size_t outputs, const LineModel& model, const SampleOptions& options) {
  Bands result;
  result.inputs = line::uncertain(line);
  result.samples = options.samples;
  result.seed = options.seed;
  const std::size_t inputs = result.inputs.size(), n = options.samples;
  check_inputs(inputs, line.file);
  const bool influence = options.influence && inputs > 0;
  // The same points as the influences use, so that a line is asked about the same samples either way.
  const QuasiRandom points(n, 2 * inputs, options.seed);
  Asker asker(line, model, outputs);
  const std::size_t base = std::max<std::size_t>(n / 4, 16);
  const std::size_t all = n + (influence ? base * (inputs + 2) : 0);
  const auto tell = [&](std::size_t before) {
    return options.progress
               ? Progress([&, before](std::size_t done, std::size_t) { options.progress(before + done, all); })
               : Progress();
  };

  std::vector<double> rows(n * outputs, nothing);
  std::vector<char> lost(n, 0);
  parallel(
      n, options.threads,
      [&](std::size_t i) {
        const std::span<double> out = std::span<double>(rows).subspan(i * outputs, outputs);
        lost[i] = !asker.ask(points[i].first(inputs), out);
      },
      tell(0));
  result.failed = static_cast<std::size_t>(std::count(lost.begin(), lost.end(), 1));
  if (result.failed == n) asker.insist(points[0].first(inputs));
  if (result.failed == n) throw NoConvergence("not one of the lines drawn from the file's tolerances could be solved.");
  for (std::size_t o = 0; o < outputs; ++o) {
    std::vector<double> values(n);
    for (std::size_t i = 0; i < n; ++i) values[i] = rows[i * outputs + o];
    result.bands.push_back(band_of(values));
    result.values.push_back(std::move(values));
  }
  const CubeModel cube = [&](std::span<const double> u, std::span<double> out) { asker.ask(u, out); };
  if (influence) result.influence = influences(inputs, outputs, cube, {base, options.seed, options.threads, tell(n)});
  return result;
}

}  // namespace airtally::study
