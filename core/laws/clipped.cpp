#include "laws/clipped.hpp"

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <numbers>

#include "laws/detection.hpp"
#include "laws/require.hpp"

namespace airtally::laws {
namespace {

constexpr double beyond_all = 8.0;  // deviations: beyond lie 6 readings in 1e16
constexpr double nothing = 10.0;    // deviations: beyond is not integrated

void check(const Clipped& c) {
  require(c.before > 0.0 && c.after > 0.0 && c.low <= c.high,
          "a clipped reading needs deviations above zero and a lower limit that is not above the upper one");
}

double density(double u) { return std::exp(-0.5 * u * u) / std::sqrt(2.0 * std::numbers::pi); }

/// The limits in deviations from the mean, with what lies below, between and above them.
struct Cut {
  double a, b, below, between, above;
};

Cut cut_of(const Clipped& c) {
  Cut cut{};
  cut.a = (c.low - c.mean) / c.before;
  cut.b = (c.high - c.mean) / c.before;
  cut.below = upper_tail(-cut.a);
  cut.above = upper_tail(cut.b);
  cut.between = std::max(0.0, 1.0 - cut.below - cut.above);
  return cut;
}

/// Of an infinite limit nothing is left: a f(a) -> 0.
double edge(double u) { return std::abs(u) > 38.0 ? 0.0 : u * density(u); }

double weighed(double u, double share) { return share > 0.0 ? u * share : 0.0; }

/// How far the mean of clip(x) lies from that of x, in deviations of x.
double shift(const Cut& cut) {
  return weighed(cut.a, cut.below) + weighed(cut.b, cut.above) + density(cut.a) - density(cut.b);
}

}  // namespace

double clipped_mean(const Clipped& c) {
  check(c);
  return std::clamp(c.mean + c.before * shift(cut_of(c)), c.low, c.high);
}

double clipped_deviation(const Clipped& c) {
  check(c);
  const Cut cut = cut_of(c);
  const double moved = shift(cut);
  const double square = weighed(cut.a * cut.a, cut.below) + weighed(cut.b * cut.b, cut.above) + cut.between +
                        edge(cut.a) - edge(cut.b) - moved * moved;
  return std::hypot(c.before * std::sqrt(std::max(0.0, square)), c.after);
}

bool is_free(const Clipped& c) {
  check(c);
  return c.mean - c.low >= beyond_all * c.before && c.high - c.mean >= beyond_all * c.before;
}

double share_above(const Clipped& c, double threshold) {
  if (is_free(c)) return upper_tail((threshold - c.mean) / std::hypot(c.before, c.after));
  // For one z the reading lies above where clip(x) > threshold - z: always from z = threshold - low on, never up to
  // z = threshold - high, and in between as often as x does.
  const double never = threshold - c.high, always = threshold - c.low;
  double sum = upper_tail(always / c.after);
  const double from = std::max(never, -nothing * c.after), to = std::min(always, nothing * c.after);
  if (to <= from) return sum;
  // The factors bend within a few deviations of their middles: z = 0, and z = threshold - mean.
  constexpr std::array<double, 7> bends{-4.0, -2.0, -1.0, 0.0, 1.0, 2.0, 4.0};
  std::array<double, 2 * bends.size() + 2> ends{from, to};
  std::size_t n = 2;
  for (const double bend : bends) {
    ends.at(n++) = std::clamp(bend * c.after, from, to);
    ends.at(n++) = std::clamp(threshold - c.mean + bend * c.before, from, to);
  }
  std::sort(ends.begin(), ends.end());
  const auto both = [&](double z) {
    return density(z / c.after) / c.after * upper_tail((threshold - z - c.mean) / c.before);
  };
  for (std::size_t k = 0; k + 1 < ends.size(); ++k)
    if (ends[k + 1] > ends[k]) sum += boost::math::quadrature::gauss<double, 20>::integrate(both, ends[k], ends[k + 1]);
  return std::min(1.0, sum);
}

double share_below(const Clipped& c, double threshold) {
  return share_above({-c.mean, c.before, c.after, -c.high, -c.low}, -threshold);
}

}  // namespace airtally::laws
