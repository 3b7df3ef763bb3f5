#pragma once
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <random>

#include "laws/flow.hpp"

/// What every flow law must do, as checks that each law's test runs on its own paths.
namespace airtally::support {

using Law = std::function<laws::Flow(const laws::Ends&)>;

/// The slope at 0 of `value` by central differences of steps h and h/2 extrapolated to none: error of the order of h^4.
template <class F>
double difference(F&& value, double h) {
  const double coarse = (value(h) - value(-h)) / (2.0 * h);
  const double fine = (value(0.5 * h) - value(-0.5 * h)) / h;
  return (4.0 * fine - coarse) / 3.0;
}

/// Whether `slope` agrees with differences of `value` to 1e-6 of itself, plus `floor`. Steps from 3e-4 down to 3e-6 of
/// `scale` are tried, since a law that is smooth only once has points where a long step straddles the seam; a wrong
/// slope agrees with none.
template <class F>
bool slope_agrees(double slope, F&& value, double scale, double floor) {
  for (const double step : {3e-4, 3e-5, 3e-6}) {
    if (std::abs(difference(value, step * scale) - slope) <= 1e-6 * std::abs(slope) + floor) return true;
  }
  return false;
}

/// Checks both slopes of `law` at `ends`. The floor, 1e-8 of the slopes' sum, serves slopes that go to zero at choking.
inline void check_slopes(const Law& law, const laws::Ends& ends) {
  const laws::Flow flow = law(ends);
  const double scale =
      std::abs(ends.drop) > 0.0 ? std::min(std::abs(ends.drop), std::min(ends.p1, ends.p2)) : 1e-6 * ends.p1;
  const double floor = 1e-8 * (std::abs(flow.dm_dp1) + std::abs(flow.dm_dp2));
  CAPTURE(ends.p1, ends.p2, ends.drop, flow.m, flow.dm_dp1, flow.dm_dp2);
  CHECK(slope_agrees(
      flow.dm_dp1,
      [&](double h) {
        return law({ends.p1 + h, ends.p2, ends.drop + h}).m;
      },
      scale, floor));
  CHECK(slope_agrees(
      flow.dm_dp2,
      [&](double h) {
        return law({ends.p1, ends.p2 + h, ends.drop - h}).m;
      },
      scale, floor));
}

/// Pairs of pressures from 1 to 200 kPa, some with nearly equal ends; always the same for a seed.
class RandomEnds {
 public:
  explicit RandomEnds(unsigned seed) : engine_(seed) {}

  laws::Ends next() {
    const double p1 = 1e3 * std::pow(200.0, unit_(engine_));
    if (unit_(engine_) < 0.6) return {p1, 1e3 * std::pow(200.0, unit_(engine_))};
    // A drop of 1e-18 to 0.1 of the pressure, either way, known better than the pressures tell.
    const double drop = p1 * std::pow(10.0, -18.0 + 17.0 * unit_(engine_)) * (unit_(engine_) < 0.5 ? -1.0 : 1.0);
    return {p1, p1 - drop, drop};
  }
  double unit() { return unit_(engine_); }

 private:
  std::mt19937_64 engine_;
  std::uniform_real_distribution<double> unit_{0.0, 1.0};
};

/// Odd, rising in p1, falling in p2, no flow at no drop, and slopes that match differences: on `count` random pairs.
/// `back` is the same path seen from its other end.
inline void check_law(const Law& law, const Law& back, unsigned seed, int count) {
  RandomEnds random(seed);
  for (int i = 0; i < count; ++i) {
    const laws::Ends ends = random.next();
    const laws::Flow flow = law(ends);
    const laws::Flow turned = back({ends.p2, ends.p1, -ends.drop});
    CAPTURE(ends.p1, ends.p2, ends.drop, flow.m);
    CHECK(std::isfinite(flow.m));
    CHECK(flow.m * ends.drop > 0.0);
    CHECK(turned.m == -flow.m);
    CHECK(turned.dm_dp1 == -flow.dm_dp2);
    CHECK(turned.dm_dp2 == -flow.dm_dp1);
    // The slope with the upstream pressure is never zero; the other is when choked.
    CHECK((ends.drop > 0.0 ? flow.dm_dp1 : -flow.dm_dp2) > 0.0);
    CHECK((ends.drop > 0.0 ? -flow.dm_dp2 : flow.dm_dp1) >= 0.0);
    check_slopes(law, ends);
    const double p = ends.p1;
    const laws::Flow rest = law({p, p});
    CHECK(rest.m == 0.0);
    CHECK(rest.dm_dp1 > 0.0);
    CHECK(std::abs(rest.dm_dp2 + rest.dm_dp1) <= 1e-14 * rest.dm_dp1);
  }
}

}  // namespace airtally::support
