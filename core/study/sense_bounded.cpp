// Tails of normal scatter about a range. Where a set point stands far off they are below any number that a double has,
// so logarithms are what is worked with.
#include "study/sense_bounded.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "study/lowest_private.hpp"

namespace airtally::study {
namespace {

constexpr double far = 30.0;         // deviations: beyond, a few terms of the asymptotic series are exact to 1e-7
constexpr double never_left = -9.0;  // below, all but 1e-19 lies above
constexpr std::size_t most_stretches = 64;

double log_density(double x) { return -0.5 * x * x - 0.5 * std::log(2.0 * std::numbers::pi); }

/// Logarithm of the normal tail Q(x).
double log_tail(double x) {
  if (x < far) return std::log(laws::upper_tail(x));
  const double y = 1.0 / (x * x);
  return log_density(x) - std::log(x) + std::log1p(-y + 3.0 * y * y);
}

/// Logarithm of the tail's own integral from x on, f(x) - x Q(x).
double log_integral(double x) {
  if (x < far) return std::log(std::exp(log_density(x)) - x * laws::upper_tail(x));
  const double y = 1.0 / (x * x);
  return log_density(x) + std::log(y) + std::log1p(-3.0 * y + 15.0 * y * y);
}

/// Logarithm of the mean of Q over [from, to].
double log_mean_tail(double from, double to) {
  if (to < never_left) return 0.0;
  if (to - from < 1e-3) return log_tail(0.5 * (from + to));
  const double all = log_integral(from), rest = log_integral(to);
  return std::min(0.0, all + std::log1p(-std::exp(rest - all)) - std::log(to - from));
}

/// The mean of Q over [from, to], where that is no smaller than a double can be.
double mean_tail(double from, double to) {
  const auto integral = [](double x) { return std::exp(log_density(x)) - x * laws::upper_tail(x); };
  return to - from < 1e-3 ? laws::upper_tail(0.5 * (from + to)) : (integral(from) - integral(to)) / (to - from);
}

double log_share_above(const BoundedScatter& s, double threshold) {
  const double x = (threshold - s.normal.mean) / s.normal.deviation;
  if (s.about.empty()) return log_tail(x);
  double share = 0.0;
  for (const Stretch& stretch : s.about)
    share += stretch.share * mean_tail(x - stretch.to / s.normal.deviation, x - stretch.from / s.normal.deviation);
  constexpr double seldom = 1e-200;  // logarithms cost ten times as much
  if (share > seldom) return std::min(0.0, std::log(share));
  std::vector<double> parts;
  for (const Stretch& stretch : s.about)
    if (stretch.share > 0.0)
      parts.push_back(std::log(stretch.share) +
                      log_mean_tail(x - stretch.to / s.normal.deviation, x - stretch.from / s.normal.deviation));
  const double most = *std::max_element(parts.begin(), parts.end());
  double sum = 0.0;
  for (const double part : parts) sum += std::exp(part - most);
  return std::min(0.0, most + std::log(sum));
}

/// The same with up and down exchanged.
BoundedScatter mirrored(const BoundedScatter& s) {
  BoundedScatter other{{-s.normal.mean, s.normal.deviation}};
  for (const Stretch& stretch : s.about) other.about.push_back({-stretch.to, -stretch.from, stretch.share});
  return other;
}

/// Deviations that leave a normal scatter beyond with that logarithm, which is at most log(1/2).
double deviations_of(double log_share) {
  if (log_share > -600.0) return laws::deviations_for(std::exp(log_share));
  double x = std::sqrt(-2.0 * log_share);
  for (int i = 0; i < 4; ++i) x = std::sqrt(-2.0 * (log_share + std::log(x) + 0.5 * std::log(2.0 * std::numbers::pi)));
  return x;
}

std::pair<double, double> ends_of(const BoundedScatter& s) {
  double low = 0.0, high = 0.0;
  for (const Stretch& stretch : s.about) {
    low = std::min(low, stretch.from);
    high = std::max(high, stretch.to);
  }
  return {s.normal.mean + low, s.normal.mean + high};
}

/// Where a rising function of vacuum becomes positive.
template <typename Function>
double rising_through(double from, double to, Function rises) {
  for (int i = 0; i < 80 && to - from > 1e-9 * std::max(std::abs(from), std::abs(to)); ++i) {
    const double middle = 0.5 * (from + to);
    (rises(middle) > 0.0 ? to : from) = middle;
  }
  return 0.5 * (from + to);
}

}  // namespace

double deviations_below(const BoundedScatter& s, double threshold) {
  if (s.about.empty()) return (threshold - s.normal.mean) / s.normal.deviation;
  const double above = log_share_above(s, threshold);
  if (above <= -std::numbers::ln2) return deviations_of(above);
  return -deviations_of(std::min(log_share_above(mirrored(s), -threshold), -std::numbers::ln2));
}

double deviations_above(const BoundedScatter& s, double threshold) {
  if (s.about.empty()) return (s.normal.mean - threshold) / s.normal.deviation;
  return deviations_below(mirrored(s), -threshold);
}

double share_above(const BoundedScatter& s, double threshold) {
  return s.about.empty() ? laws::upper_tail((threshold - s.normal.mean) / s.normal.deviation)
                         : std::exp(log_share_above(s, threshold));
}

double share_below(const BoundedScatter& s, double threshold) {
  return s.about.empty() ? laws::upper_tail((s.normal.mean - threshold) / s.normal.deviation)
                         : std::exp(log_share_above(mirrored(s), -threshold));
}

double density(const BoundedScatter& s, double vacuum) {
  const double deviation = s.normal.deviation, x = (vacuum - s.normal.mean) / deviation;
  if (s.about.empty()) return std::exp(log_density(x)) / deviation;
  double sum = 0.0;
  for (const Stretch& stretch : s.about) {
    const double from = stretch.from / deviation, to = stretch.to / deviation;
    sum += stretch.share * (to - from < 1e-3 ? std::exp(log_density(x - 0.5 * (from + to)))
                                             : (laws::upper_tail(x - to) - laws::upper_tail(x - from)) / (to - from));
  }
  return sum / deviation;
}

double threshold_above(const BoundedScatter& s, double deviations) {
  if (s.about.empty()) return s.normal.mean + deviations * s.normal.deviation;
  const auto [low, high] = ends_of(s);
  const double room = (std::abs(deviations) + 1.0) * s.normal.deviation;
  return rising_through(low - room, high + room, [&](double t) { return deviations_below(s, t) - deviations; });
}

double threshold_below(const BoundedScatter& s, double deviations) { return -threshold_above(mirrored(s), deviations); }

double separation(const BoundedScatter& below, const BoundedScatter& above) {
  if (below.about.empty() && above.about.empty()) return laws::separation(below.normal, above.normal);
  const auto [low, high] = ends_of(below);
  const auto [other_low, other_high] = ends_of(above);
  const double room = below.normal.deviation + above.normal.deviation;
  const double equal =
      rising_through(std::min(low, other_low) - room, std::max(high, other_high) + room,
                     [&](double t) { return deviations_below(below, t) - deviations_above(above, t); });
  return std::min(deviations_below(below, equal), deviations_above(above, equal));
}

double best_threshold(const BoundedScatter& below, const BoundedScatter& above) {
  if (below.about.empty() && above.about.empty()) return laws::best_threshold(below.normal, above.normal);
  const BoundedScatter other = mirrored(above);
  const auto errs = [&](double t) {
    const double a = log_share_above(below, t), b = log_share_above(other, -t), most = std::max(a, b);
    return most + std::log(std::exp(a - most) + std::exp(b - most));
  };
  return lowest(below.normal.mean, above.normal.mean, errs);
}

Stretches added(const Stretches& a, const Stretches& b) {
  if (a.empty() || b.empty()) return a.empty() ? b : a;
  Stretches all;
  double low = 0.0, high = 0.0;
  for (const Stretch& one : a)
    for (const Stretch& two : b) {
      all.push_back({one.from + two.from, one.to + two.to, one.share * two.share});
      low = std::min(low, all.back().from);
      high = std::max(high, all.back().to);
    }
  if (all.size() <= most_stretches) return all;
  Stretches few;
  const double width = (high - low) / static_cast<double>(most_stretches);
  for (std::size_t k = 0; k < most_stretches; ++k)
    few.push_back({low + static_cast<double>(k) * width, low + static_cast<double>(k + 1) * width, 0.0});
  for (const Stretch& one : all)
    for (Stretch& cell : few) {
      const double wide = std::max(one.to - one.from, 1e-9 * width);
      const double from = std::min(one.from, high - wide), to = from + wide;
      cell.share += one.share * std::max(0.0, std::min(to, cell.to) - std::max(from, cell.from)) / wide;
    }
  return few;
}

Stretches condensed(const Stretches& all, double normal) {
  constexpr std::size_t few = 8;
  if (all.size() <= few) return all;
  const double most = 0.25 * normal;
  Stretches merged;
  for (std::size_t k = 0; k < all.size();) {
    double low = all[k].from, high = all[k].to, share = 0.0, sum = 0.0, squares = 0.0;
    do {
      const Stretch& one = all[k];
      const double middle = 0.5 * (one.from + one.to), wide = one.to - one.from;
      low = std::min(low, one.from);
      high = std::max(high, one.to);
      share += one.share;
      sum += one.share * middle;
      squares += one.share * (middle * middle + wide * wide / 12.0);
      ++k;
    } while (k < all.size() && std::max(high, all[k].to) - std::min(low, all[k].from) <= most);
    if (!(share > 0.0)) continue;
    const double mean = sum / share, half = std::sqrt(3.0 * std::max(squares / share - mean * mean, 0.0));
    merged.push_back({mean - half, mean + half, share});
  }
  return merged;
}

Stretches sum_of_ranges(double deviation, double reach, double ranges) {
  if (!(deviation > 0.0)) return {};
  // (1 - (x/half)^2)^power has that deviation, and for n ranges of one width their excess of -6/(5 n): the range itself
  // for one, the bell curve for many.
  const double power = 2.5 * std::max(ranges - 1.0, 0.0), half = deviation * std::sqrt(2.0 * power + 3.0);
  const double end = std::min(half, reach);
  if (power < 1e-3) return {{-end, end, 1.0}};
  constexpr int cells = 32, points = 8;
  Stretches all;
  double sum = 0.0;
  for (int k = 0; k < cells; ++k) {
    const double from = end * (2.0 * k / cells - 1.0), to = end * (2.0 * (k + 1) / cells - 1.0);
    double share = 0.0;
    for (int i = 0; i < points; ++i) {
      const double x = (from + (to - from) * (i + 0.5) / points) / half;
      share += std::pow(std::max(0.0, 1.0 - x * x), power);
    }
    all.push_back({from, to, share});
    sum += share;
  }
  for (Stretch& one : all) one.share /= sum;
  return all;
}

}  // namespace airtally::study
