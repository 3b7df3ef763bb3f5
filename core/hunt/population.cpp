#include <algorithm>

#include "hunt/population_private.hpp"

namespace airtally::hunt {
namespace {

/// Share of the old point that a step keeps: long steps where the posterior is nearly normal, short ones where it
/// bends.
constexpr double kept_shares[] = {0.3, 0.8, 0.95};
constexpr double refresh_shares[] = {0.0, 0.8};
constexpr int newton_steps = 6;
constexpr int exchanges = 3;

}  // namespace

Population::Population(const Suspects& suspects, const std::vector<Reading>& readings, const Bench& bench,
                       const Mixture& mixture, std::size_t count, std::uint64_t seed)
    : suspects_(&suspects), evidence_(suspects, readings, bench), mixture_(&mixture), normals_(seed) {
  for (std::size_t k = 0; k < suspects.unknowns.size(); ++k)
    if (suspects.unknowns[k].what == What::leak && suspects.unknowns[k].prior.shape == Prior::Shape::log_normal &&
        suspects.unknowns[k].prior.spread > 0.0)
      leaks_.push_back(k);
  points_.reserve(count);
  // A draw from the far tail of a normal distribution may be no line at all; the posterior has no mass there.
  for (std::size_t tries = 0; points_.size() < count && tries < 50 * count; ++tries) {
    Point point;
    point.z = mixture.draw(normals_);
    if (evaluate(point)) points_.push_back(std::move(point));
  }
}

void Population::run(const SampleOptions& options, const std::function<void(double)>& progress) {
  for (double t = 0.0; t < 1.0 && !points_.empty();) {
    const double next = next_temperature(t);
    draw_again(next - t);
    t = next;
    ++temperatures;
    const int sweeps = t < 1.0 ? 1 : options.sweeps;
    for (int k = 0; k < sweeps; ++k) {
      for (Point& point : points_) sweep(point, t);
      if (progress) progress(t < 1.0 ? 0.5 * t : 0.5 + 0.5 * (k + 1) / sweeps);
    }
  }
}

bool Population::evaluate(Point& point) {
  r_.resize(static_cast<Eigen::Index>(evidence_.size()));
  if (!evidence_.evaluate({point.z.data(), static_cast<std::size_t>(point.z.size())}, {r_.data(), evidence_.size()},
                          {}) ||
      !r_.allFinite())
    return false;
  point.log_posterior = -0.5 * (r_.squaredNorm() + point.z.squaredNorm());
  point.log_mixture = mixture_->log_density(point.z);
  return true;
}

bool Population::linearise(Eigen::VectorXd z, Linear& linear) {
  const Eigen::Index n = z.size();
  const auto m = static_cast<Eigen::Index>(evidence_.size());
  r_.resize(m);
  slopes_.resize(m, n);
  if (!evidence_.evaluate({z.data(), static_cast<std::size_t>(n)}, {r_.data(), evidence_.size()},
                          {slopes_.data(), static_cast<std::size_t>(m * n)}) ||
      !r_.allFinite() || !slopes_.allFinite())
    return false;
  Eigen::MatrixXd precision = Eigen::MatrixXd::Identity(n, n);
  precision.noalias() += slopes_.transpose() * slopes_;
  const Eigen::LLT<Eigen::MatrixXd> cholesky(precision);
  linear.factor = cholesky.matrixU();
  linear.log_det = linear.factor.diagonal().array().log().sum();
  linear.newton = -cholesky.solve(slopes_.transpose() * r_ + z);
  linear.point.log_posterior = -0.5 * (r_.squaredNorm() + z.squaredNorm());
  linear.point.log_mixture = mixture_->log_density(z);
  linear.point.z = std::move(z);
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
  const double wanted = 0.5 * static_cast<double>(points_.size());
  if (effective(1.0 - t) >= wanted) return 1.0;
  double low = 0.0, high = 1.0 - t;
  for (int k = 0; k < 40; ++k) {
    const double middle = 0.5 * (low + high);
    (effective(middle) >= wanted ? low : high) = middle;
  }
  return t + std::max(low, 1e-3);  // bounded: at most a thousand temperatures
}

/// Systematic resampling by the weights of one step.
void Population::draw_again(double step) {
  const std::size_t count = points_.size();
  std::vector<double> logs;
  for (const Point& p : points_) logs.push_back(step * (p.log_posterior - p.log_mixture));
  const double total = log_sum(logs);
  std::vector<Point> chosen;
  chosen.reserve(count);
  const double start = normals_.uniform();
  double reached = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    reached += std::exp(logs[i] - total) * static_cast<double>(count);
    while (chosen.size() < count && static_cast<double>(chosen.size()) + start < reached) chosen.push_back(points_[i]);
  }
  while (chosen.size() < count) chosen.push_back(points_.back());  // rounding at the end
  points_ = std::move(chosen);
}

bool Population::accept(Point& point, Point&& there, double log_ratio) {
  ++tried;
  if (!(std::log1p(-normals_.uniform()) < log_ratio)) return false;
  point = std::move(there);
  ++taken;
  return true;
}

void Population::sweep(Point& point, double t) {
  for (Eigen::Index k = 0; k < point.z.size(); ++k)
    if (mixture_->informed(k)) refresh(point, t, k);
  for (int k = 0; k < exchanges; ++k) exchange(point, t);
  start_afresh(point, t);
  Linear here;
  if (!linearise(point.z, here)) return;
  for (int k = 0; k < newton_steps; ++k) newton(here, t);
  point = std::move(here.point);
  // What no reading depends on has its prior, in the mixture too, and need not be solved for.
  for (Eigen::Index k = 0; k < point.z.size(); ++k)
    if (!mixture_->informed(k)) {
      const double z = normals_.normal(), change = 0.5 * (point.z[k] * point.z[k] - z * z);
      point.z[k] = z;
      point.log_posterior += change;
      point.log_mixture += change;
    }
}

void Population::refresh(Point& point, double t, Eigen::Index k) {
  const double kept = refresh_shares[normals_.below(std::size(refresh_shares))];
  Point there = point;
  there.z[k] = kept * point.z[k] + std::sqrt(1.0 - kept * kept) * normals_.normal();
  if (!evaluate(there)) return;
  const double prior = 0.5 * (there.z[k] * there.z[k] - point.z[k] * point.z[k]);
  const double ratio = log_target(there, t) - log_target(point, t) + prior;
  accept(point, std::move(there), ratio);
}

void Population::exchange(Point& point, double t) {
  if (leaks_.size() < 2) return;
  const std::size_t a = normals_.below(leaks_.size());
  const std::size_t b = (a + 1 + normals_.below(leaks_.size() - 1)) % leaks_.size();
  // ln(leak) = base + spread z. The map is its own inverse and keeps volume: its determinant is -(sb/sa)(sa/sb).
  const auto leak = [&](std::size_t k) {
    const Unknown& unknown = suspects_->unknowns[leaks_[k]];
    return std::pair(std::log(unknown.prior.middle * suspects_->leak_at_one[unknown.element]), unknown.prior.spread);
  };
  const auto [base_a, spread_a] = leak(a);
  const auto [base_b, spread_b] = leak(b);
  const auto ka = static_cast<Eigen::Index>(leaks_[a]), kb = static_cast<Eigen::Index>(leaks_[b]);
  Point there = point;
  there.z[ka] = (base_b + spread_b * point.z[kb] - base_a) / spread_a;
  there.z[kb] = (base_a + spread_a * point.z[ka] - base_b) / spread_b;
  if (!evaluate(there)) return;
  const double ratio = log_target(there, t) - log_target(point, t);
  accept(point, std::move(there), ratio);
}

void Population::start_afresh(Point& point, double t) {
  Point there;
  there.z = mixture_->draw(normals_);
  if (!evaluate(there)) return;
  const double ratio = log_target(there, t) - log_target(point, t) - there.log_mixture + point.log_mixture;
  accept(point, std::move(there), ratio);
}

void Population::newton(Linear& here, double t) {
  const double kept = kept_shares[normals_.below(std::size(kept_shares))];
  // Log density of a step that keeps the share `kept` of where it starts, up to a constant.
  const auto log_step = [&](const Linear& a, const Linear& b) {
    const Eigen::VectorXd away = b.point.z - a.point.z - (1.0 - kept) * a.newton;
    return a.log_det - 0.5 * (a.factor.triangularView<Eigen::Upper>() * away).squaredNorm() / (1.0 - kept * kept);
  };
  Eigen::VectorXd z = here.point.z + (1.0 - kept) * here.newton +
                      std::sqrt(1.0 - kept * kept) *
                          here.factor.triangularView<Eigen::Upper>().solve(normals_.normals(here.point.z.size()));
  Linear there;
  if (!linearise(std::move(z), there)) return;
  const double ratio =
      log_target(there.point, t) - log_target(here.point, t) + log_step(there, here) - log_step(here, there);
  ++tried;
  if (!(std::log1p(-normals_.uniform()) < ratio)) return;
  here = std::move(there);
  ++taken;
}

}  // namespace airtally::hunt
