#include <algorithm>
#include <cmath>

#include "hunt/samples/population_private.hpp"

// From the stand-in's posterior to the line's own, where weights alone would leave too few samples.

namespace airtally::hunt {
namespace {

constexpr double kept_of_line = 0.5;  ///< share of the samples that a step of the temperature leaves effective
constexpr int most_temperatures = 40;
constexpr int most_stand_in_steps = 64;  ///< of the stand-in's, to one of the line's
constexpr double too_seldom = 0.25;      ///< share of steps taken below which they are shortened
constexpr double often_enough = 0.55;    ///< above which they are made longer

/// Weights e^(step off): the largest step up to `left` that keeps enough samples effective.
double next_step(const std::vector<Point>& points, double left) {
  const auto effective = [&](double step) {
    double top = -1e300, sum = 0.0, squares = 0.0;
    for (const Point& p : points) top = std::max(top, step * p.off);
    for (const Point& p : points) {
      const double w = std::exp(step * p.off - top);
      sum += w;
      squares += w * w;
    }
    return sum * sum / squares;
  };
  const double wanted = kept_of_line * static_cast<double>(points.size());
  if (effective(left) >= wanted) return left;
  double low = 0.0, high = left;
  for (int k = 0; k < 40; ++k) {
    const double middle = 0.5 * (low + high);
    (effective(middle) >= wanted ? low : high) = middle;
  }
  return std::min(left, std::max(low, 1.0 / most_temperatures));
}

}  // namespace

/// One step of the stand-in's, of a kind drawn at random, so that any number of them is the same both ways.
void Population::any_move(Stand& stand) {
  double no_mixture = 0.0;
  const double kind = normals_.uniform();
  if (kind < 0.45)
    refresh(stand, no_mixture, 1.0, informed_[normals_.below(informed_.size())]);
  else if (kind < 0.8)
    counterweigh(stand, no_mixture, 1.0);
  else if (kind < 0.86)
    exchange(stand, no_mixture, 1.0);
  else if (kind < 0.96)
    share(stand, no_mixture, 1.0);
  else
    newton(stand, no_mixture, 1.0);
}

/// One step of the line's for every sample. How many of the stand-in's it is made of follows from one time to the next.
void Population::correct_all(Evidence& evidence, double t) {
  if (informed_.empty()) return;
  std::size_t taken_here = 0, tried_here = 0;
  Stand stand;
  Probe probe;
  for (Point& point : points_) {
    if (!put(*stand_in_, point.z, stand)) continue;
    for (int step = 0; step < steps_; ++step) any_move(stand);
    ++tried_here;
    probe.z = stand.z;
    solve(probe, evidence, false);
    if (!probe.solved()) continue;
    const double off = probe.exact - stand.log_posterior();
    if (!accept(t * (off - point.off))) continue;
    ++taken_here;
    point.z = stand.z;
    point.log_posterior = stand.log_posterior();
    point.off = off;
  }
  const double share = static_cast<double>(taken_here) / static_cast<double>(std::max<std::size_t>(tried_here, 1));
  if (share < too_seldom) steps_ = std::max(1, steps_ / 2);
  if (share > often_enough) steps_ = std::min(most_stand_in_steps, steps_ * 2);
}

void Population::correct(Evidence& evidence, std::size_t count) {
  std::vector<Point> some;  // kin stand beside each other
  for (std::size_t i = 0; i < std::min(count, points_.size()); ++i)
    some.push_back(points_[i * points_.size() / std::min(count, points_.size())]);
  points_ = std::move(some);
  bool any = false;
  for (Point& point : points_) {
    Probe probe;
    probe.z = point.z;
    solve(probe, evidence, false);
    point.off = probe.solved() ? probe.exact - point.log_posterior : -1e300;
    any = any || probe.solved();
  }
  if (!any) return;
  for (double t = 0.0; t < 1.0;) {
    const double step = next_step(points_, 1.0 - t);
    std::vector<double> logs;
    logs.reserve(points_.size());
    for (const Point& p : points_) logs.push_back(step * p.off);
    draw_again(logs);
    t += step;
    ++temperatures;
    correct_all(evidence, t);
  }
  move_on(evidence, 1);
}

void Population::move_on(Evidence& evidence, int rounds) {
  for (int round = 0; round < rounds; ++round) correct_all(evidence, 1.0);
  // What no reading depends on has its prior.
  for (Point& point : points_)
    for (Eigen::Index k = 0; k < point.z.size(); ++k)
      if (!mixture_->informed(k)) point.z[k] = normals_.normal();
}

}  // namespace airtally::hunt
