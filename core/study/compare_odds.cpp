// How often one variant is better than another.
#include <algorithm>
#include <cmath>

#include "study/compare.hpp"

namespace airtally::study {

double CompareBands::beats(std::size_t r, std::size_t a, std::size_t b) const {
  const Result& result = results()[drawn.at(r)];
  std::size_t both = 0, ahead = 0;
  for (std::size_t i = 0; i < samples; ++i) {
    const double x = values[r][a][i], y = values[r][b][i];
    if (std::isnan(x) || std::isnan(y)) continue;
    ++both;
    ahead += better(result, x, y) ? 1 : 0;
  }
  return both == 0 ? 0.0 : static_cast<double>(ahead) / static_cast<double>(both);
}

std::optional<double> CompareBands::best(std::size_t r, std::size_t variant) const {
  const Result& result = results()[drawn.at(r)];
  // Only those that the question arises for.
  std::vector<std::span<const double>> all;
  std::span<const double> own;
  for (std::size_t v = 0; v < values[r].size(); ++v) {
    const auto& of = values[r][v];
    if (std::all_of(of.begin(), of.end(), [](double x) { return std::isnan(x); })) continue;
    if (v == variant) own = of;
    all.emplace_back(of);
  }
  if (all.size() < 2 || own.empty()) return std::nullopt;
  std::size_t counted = 0;
  double share = 0.0;
  for (std::size_t i = 0; i < samples; ++i) {
    if (std::any_of(all.begin(), all.end(), [&](const auto& v) { return std::isnan(v[i]); })) continue;
    ++counted;
    const auto beaten = [&](double value) {
      return std::any_of(all.begin(), all.end(), [&](const auto& o) { return better(result, o[i], value); });
    };
    if (beaten(own[i])) continue;
    const auto ties = std::count_if(all.begin(), all.end(), [&](const auto& o) { return !beaten(o[i]); });
    share += 1.0 / static_cast<double>(ties);
  }
  return counted == 0 ? 0.0 : share / static_cast<double>(counted);
}

std::optional<double> CompareBands::best_of(std::size_t r, std::span<const std::size_t> variants) const {
  double share = 0.0;
  for (const std::size_t v : variants) {
    const auto own = best(r, v);
    if (!own) return std::nullopt;
    share += *own;
  }
  return std::min(share, 1.0);
}

}  // namespace airtally::study
