#include <algorithm>

#include "hunt/samples/population_private.hpp"

namespace airtally::hunt {
namespace {

constexpr double kept_effective = 0.2;  ///< share of the samples that a step of the temperature leaves effective

}  // namespace

Population::Population(const StandIn& stand_in, const Mixture& mixture, std::size_t count, std::uint64_t seed)
    : stand_in_(&stand_in), suspects_(&stand_in.suspects()), mixture_(&mixture), normals_(seed) {
  for (std::size_t k = 0; k < suspects_->unknowns.size(); ++k) {
    const Prior& prior = suspects_->unknowns[k].prior;
    if (suspects_->unknowns[k].what == What::leak && (prior.shape == Prior::Shape::range || prior.spread > 0.0))
      leaks_.push_back(k);
    if (mixture.informed(static_cast<Eigen::Index>(k))) informed_.push_back(static_cast<Eigen::Index>(k));
  }
  points_.reserve(count);
  // A draw from the far tail of a normal distribution may be no line at all; the posterior has no mass there.
  for (std::size_t tries = 0; points_.size() < count && tries < 50 * count; ++tries) {
    Point point;
    point.z = mixture.draw(normals_);
    if (evaluate(point)) points_.push_back(std::move(point));
  }
}

void Population::run(int sweeps) {
  for (double t = 0.0; t < 1.0 && !points_.empty();) {
    const double next = next_temperature(t);
    std::vector<double> logs;
    logs.reserve(points_.size());
    for (const Point& p : points_) logs.push_back((next - t) * (p.log_posterior - p.log_mixture));
    draw_again(logs);
    t = next;
    ++temperatures;
    for (Point& point : points_) sweep(point, t, t < 1.0 ? 1 : sweeps);
  }
}

void Population::retarget(int sweeps) {
  std::vector<double> logs;
  logs.reserve(points_.size());
  for (Point& point : points_) {
    const double before = point.log_posterior;
    logs.push_back(evaluate(point) ? point.log_posterior - before : -1e300);
  }
  if (points_.empty() || *std::max_element(logs.begin(), logs.end()) <= -1e300) return;
  draw_again(logs);
  sweep_all(sweeps);
}

void Population::sweep_all(int sweeps) {
  for (Point& point : points_) sweep(point, 1.0, sweeps);
}

bool Population::evaluate(Point& point) {
  if (!put(*stand_in_, point.z, scratch_)) return false;
  point.log_posterior = scratch_.log_posterior();
  point.log_mixture = mixture_->log_density(point.z);
  return true;
}

double Population::next_temperature(double t) const {
  const auto effective = [&](double step) {
    double top = -1e300;
    for (const Point& p : points_) top = std::max(top, step * (p.log_posterior - p.log_mixture));
    double sum = 0.0, squares = 0.0;
    for (const Point& p : points_) {
      const double w = std::exp(step * (p.log_posterior - p.log_mixture) - top);
      sum += w;
      squares += w * w;
    }
    return sum * sum / squares;
  };
  const double wanted = kept_effective * static_cast<double>(points_.size());
  if (effective(1.0 - t) >= wanted) return 1.0;
  double low = 0.0, high = 1.0 - t;
  for (int k = 0; k < 40; ++k) {
    const double middle = 0.5 * (low + high);
    (effective(middle) >= wanted ? low : high) = middle;
  }
  return std::min(1.0, t + std::max(low, 1e-2));  // bounded: at most a hundred temperatures
}

/// Systematic resampling.
void Population::draw_again(const std::vector<double>& log_weights) {
  const std::size_t count = points_.size();
  const double total = log_sum(log_weights);
  std::vector<Point> chosen;
  chosen.reserve(count);
  const double start = normals_.uniform();
  double reached = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    reached += std::exp(log_weights[i] - total) * static_cast<double>(count);
    while (chosen.size() < count && static_cast<double>(chosen.size()) + start < reached) chosen.push_back(points_[i]);
  }
  while (chosen.size() < count) chosen.push_back(points_.back());  // rounding at the end
  points_ = std::move(chosen);
}

}  // namespace airtally::hunt
