#include <algorithm>
#include <array>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <vector>

#include "gas/air.hpp"
#include "hunt/logs/decay.hpp"

// From the rate of a decay to a leak or a volume, with the doubt of both numbers.

namespace airtally::hunt {
namespace {

/// Without a detour by way of long double, whose tables would be made when the program starts.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

constexpr std::size_t strips = 200;  ///< of equal chance that a distribution is cut into

/// The rate `z` standard deviations from its median: its logarithm is normal on either side, each with its own width.
double at(const Spread90& rate, double z) {
  const double end = z < 0.0 ? rate.low : rate.high;
  if (end > 0.0) return rate.median * std::pow(end / rate.median, std::fabs(z) / z90);
  return z < 0.0 ? rate.median * std::max(1.0 + z / z90, 0.0) : rate.median;
}

/// `a` times a value that lies anywhere in a range, all alike: no product lies beyond the ends of both.
Spread90 over_range(const Spread90& a, const units::Quantity& value, double factor) {
  const boost::math::normal_distribution<double, InDouble> normal;
  std::vector<double> rates, products;
  const auto share = [](std::size_t k) { return (static_cast<double>(k) + 0.5) / static_cast<double>(strips); };
  for (std::size_t k = 0; k < strips; ++k) rates.push_back(at(a, boost::math::quantile(normal, share(k))));
  for (std::size_t k = 0; k < strips; ++k)
    for (const double rate : rates)
      products.push_back(rate * (value.low + share(k) * (value.high - value.low)) * factor);
  std::sort(products.begin(), products.end());
  const auto quantile = [&](double q) {
    const auto above = static_cast<std::size_t>(std::lround(q * static_cast<double>(products.size())));
    return 0.5 * (products[above - 1] + products[above]);
  };
  return {quantile(0.5), a.low > 0.0 ? quantile(0.05) : 0.0, quantile(0.95)};
}

/// The ends of a value's own central 90 %.
std::array<double, 2> ends(const units::Quantity& value) {
  const double relative = value.standard_deviation() / value.value, width = value.high - value.low;
  if (value.spread == units::Spread::uniform) return {value.low + 0.05 * width, value.high - 0.05 * width};
  return {value.value * std::exp(-z90 * relative), value.value * std::exp(z90 * relative)};
}

Spread90 product(const Spread90& a, const units::Quantity& value, double factor) {
  // Without a best value there is none to measure the limits' own error from: the two errors add up.
  if (!(a.median > 0.0)) return {0.0, a.low * ends(value)[0] * factor, a.high * ends(value)[1] * factor};
  if (value.spread == units::Spread::uniform) return over_range(a, value, factor);
  // In logarithms: both are positive, and the shares of their errors add up as squares.
  const auto share = [&](double end) {
    const double own = end > 0.0 ? std::log(end / a.median) : 0.0;
    return std::exp(std::hypot(own, z90 * value.standard_deviation() / value.value));
  };
  const double median = a.median * value.value * factor;
  return {median, a.low > 0.0 ? median / share(a.low) : 0.0, median * share(a.high)};
}

}  // namespace

Spread90 leak_of(const Decay& decay, const units::Quantity& volume, const gas::Site& site) {
  return product(decay.rate, volume, 1.0 / (gas::R * site.temperature));
}

Spread90 volume_of(const Decay& decay, const units::Quantity& leak, const gas::Site& site, double deviation) {
  // V = m R T/s: the slower the rise, the larger the volume.
  const Spread90& s = decay.rate;
  const auto inverse = [](double rate) { return rate > 0.0 ? 1.0 / rate : 0.0; };
  Spread90 volume = product({inverse(s.median), inverse(s.high), inverse(s.low)}, leak, gas::R * site.temperature);
  if (deviation > 0.0) volume = product(volume, units::Quantity::normal(1.0, 2.0 * deviation), 1.0);
  if (!(s.low > 0.0)) volume.high = 0.0;
  return volume;
}

}  // namespace airtally::hunt
