#include "hunt/next/information.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "hunt/next/crowding_private.hpp"

namespace airtally::hunt {
namespace {

constexpr std::size_t grid = 257;
constexpr double reach = 4.5;  ///< kernel widths beyond which a kernel is nothing
constexpr double cleared_below = 0.05;
constexpr double luck = 0.05;  ///< chance that all samples of a stretch miss one that is as likely as before
constexpr double was_above = 0.10;

/// A sample: the reading that it predicts, with its weight and the width of its kernel.
struct Kernel {
  double at, weight, width;
};

/// The samples in which one element is the worst.
struct Class {
  std::size_t element = 0;
  double share = 0.0;
  std::vector<Kernel> kernels;
  std::vector<double> density;  ///< joint with the element, on the grid
};

void set_widths(Class& c, double noise) {
  double mean = 0.0, square = 0.0, weights = 0.0;
  for (const Kernel& k : c.kernels) mean += k.weight / c.share * k.at;
  for (const Kernel& k : c.kernels) {
    square += k.weight / c.share * (k.at - mean) * (k.at - mean);
    weights += k.weight / c.share * (k.weight / c.share);
  }
  const double deviation = std::sqrt(square);
  const double wide = 0.9 * deviation * std::pow(weights, 0.2);  // effective number = 1/weights
  Eigen::RowVectorXd at(static_cast<Eigen::Index>(c.kernels.size()));
  for (Eigen::Index i = 0; i < at.size(); ++i)
    at[i] = c.kernels[static_cast<std::size_t>(i)].at / (deviation > 0.0 ? deviation : 1.0);
  const std::vector<double> narrower = crowding(at);
  for (std::size_t i = 0; i < narrower.size(); ++i) c.kernels[i].width = std::hypot(noise, wide * narrower[i]);
}

std::vector<Class> classes_of(std::span<const double> reading, std::span<const std::size_t> worst,
                              std::span<const double> weight, double noise, std::size_t elements) {
  std::vector<Class> classes(elements);
  for (std::size_t s = 0; s < reading.size(); ++s) {
    if (!(weight[s] > 0.0)) continue;
    classes[worst[s]].share += weight[s];
    classes[worst[s]].kernels.push_back({reading[s], weight[s], noise});
  }
  for (std::size_t k = 0; k < elements; ++k) classes[k].element = k;
  std::erase_if(classes, [](const Class& c) { return c.kernels.empty(); });
  for (Class& c : classes) {
    c.density.assign(grid, 0.0);
    set_widths(c, noise);
  }
  return classes;
}

/// Adds peak exp(-((g - at)/width)^2/2) to the points g = first to last, from the one next to `at` outwards: from point
/// to point the exponent changes by equal amounts more, so two products do for an exponential.
void add_bell(std::vector<double>& density, std::size_t first, std::size_t last, double at, double width, double peak) {
  const auto middle =
      static_cast<std::size_t>(std::clamp(std::round(at), static_cast<double>(first), static_cast<double>(last)));
  const double per = 1.0 / (width * width), off = static_cast<double>(middle) - at;
  const double top = peak * std::exp(-0.5 * off * off * per), further = std::exp(-per);
  density[middle] += top;
  double value = top, change = std::exp(-(off + 0.5) * per);
  for (std::size_t g = middle; g < last; change *= further) density[++g] += value *= change;
  value = top;
  change = std::exp((off - 0.5) * per);
  for (std::size_t g = middle; g > first; change *= further) density[--g] += value *= change;
}

/// Effective number of the samples whose kernels reach into a stretch of readings.
double behind(const std::vector<Class>& classes, double low, double high) {
  double sum = 0.0, squares = 0.0;
  for (const Class& c : classes)
    for (const Kernel& k : c.kernels) {
      if (k.at < low - k.width || k.at > high + k.width) continue;
      sum += k.weight;
      squares += k.weight * k.weight;
    }
  return squares > 0.0 ? sum * sum / squares : 0.0;
}

}  // namespace

bool names_one(const Outcome& outcome) {
  // As if one more sample had been neither here nor there: a share of 1 among three is no certainty.
  const double n = outcome.samples + 1.0, share = (outcome.probability * outcome.samples + 0.5) / n;
  return outcome.probability >= 0.5 && share - 2.0 * std::sqrt(share * (1.0 - share) / n) >= 0.25;
}

Information information_of(std::span<const double> reading, std::span<const std::size_t> worst,
                           std::span<const double> weight, double noise, std::size_t elements, bool with_outcomes) {
  Information information;
  std::vector<Class> classes = classes_of(reading, worst, weight, noise, elements);
  if (classes.empty()) return information;
  double low = 1e300, high = -1e300, lowest = low, highest = high;
  for (const Class& c : classes)
    for (const Kernel& k : c.kernels) {
      low = std::min(low, k.at - reach * k.width);
      high = std::max(high, k.at + reach * k.width);
      lowest = std::min(lowest, k.at - reach * noise);
      highest = std::max(highest, k.at + reach * noise);
    }
  const double step = (high - low) / static_cast<double>(grid - 1);
  // A kernel narrower than the grid would fall between its points.
  for (Class& c : classes) {
    for (const Kernel& k : c.kernels) {
      const double width = std::max(k.width, 0.7 * step);
      const double at = (k.at - low) / step, span = reach * width / step;
      const auto first = static_cast<std::size_t>(std::max(0.0, std::ceil(at - span)));
      const auto last = static_cast<std::size_t>(std::min(static_cast<double>(grid - 1), std::floor(at + span)));
      add_bell(c.density, first, last, at, width / step, k.weight / (width * std::sqrt(2.0 * std::numbers::pi)));
    }
  }
  std::vector<double> all(grid, 0.0);
  for (const Class& c : classes)
    for (std::size_t g = 0; g < grid; ++g) all[g] += c.density[g];
  for (const Class& c : classes)
    for (std::size_t g = 0; g < grid; ++g)
      if (c.density[g] > 1e-200)  // one by one: a share may be so small that its product with a density is nothing
        information.bits += step * c.density[g] * (std::log2(c.density[g]) - std::log2(c.share) - std::log2(all[g]));
  information.bits = std::max(information.bits, 0.0);
  if (!with_outcomes) return information;

  const double top = *std::max_element(all.begin(), all.end());
  for (std::size_t g = 0; g < grid;) {
    if (all[g] < 1e-4 * top) {
      ++g;
      continue;
    }
    const auto likeliest = [&](std::size_t at) {
      return std::max_element(classes.begin(), classes.end(),
                              [&](const Class& a, const Class& b) { return a.density[at] < b.density[at]; });
    };
    const auto best = likeliest(g);
    Outcome outcome{low + step * static_cast<double>(g), 0.0, best->element, 0.0, 0.0, 0.0, {}};
    std::vector<double> mass(classes.size(), 0.0);
    for (; g < grid && all[g] >= 1e-4 * top && likeliest(g) == best; ++g) {
      outcome.high = low + step * static_cast<double>(g);
      outcome.chance += step * all[g];
      outcome.mean += step * all[g] * outcome.high;
      for (std::size_t k = 0; k < classes.size(); ++k) mass[k] += step * classes[k].density[g];
    }
    if (outcome.chance < 0.02) continue;
    // Kernels are as wide as few samples make them, and reach where no line's reading would be.
    outcome.low = std::max(outcome.low, lowest);
    outcome.high = std::min(outcome.high, highest);
    outcome.mean /= outcome.chance;
    outcome.probability = mass[static_cast<std::size_t>(best - classes.begin())] / outcome.chance;
    outcome.samples = behind(classes, outcome.low, outcome.high);
    for (std::size_t k = 0; k < classes.size(); ++k) {
      const bool by_luck = outcome.samples * std::log1p(-std::min(classes[k].share, 0.999)) > std::log(luck);
      if (classes[k].share > was_above && mass[k] < cleared_below * outcome.chance && !by_luck)
        outcome.cleared.push_back(classes[k].element);
    }
    information.outcomes.push_back(std::move(outcome));
  }
  return information;
}

}  // namespace airtally::hunt
