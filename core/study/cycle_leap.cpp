#include <algorithm>
#include <cmath>
#include <numeric>

#include "study/cycle_leap_private.hpp"

namespace airtally::study {
namespace {

constexpr double step_aside = 2000.0;  ///< of a pressure, to learn from [Pa]; far more than the integration is off by
constexpr double least_told = 1e-7;    ///< of a loss [-]; no step aside shows less

/// Of a secant: what must be its own, not the others' already. What is less is noise where there is but one slow way.
constexpr double own_share = 0.1;
constexpr std::size_t most_secants = 4;

constexpr double most_warmed = 0.05;  ///< of the temperature, by one leap [-]

}  // namespace

Leap::Leap(const solve::LineSystem& system, std::vector<double> x, std::vector<double> after)
    : ambient_(system.network().ambient), x_(std::move(x)), after_(std::move(after)) {
  const std::size_t nodes = system.network().nodes.size();
  for (std::size_t i = 0; i < nodes; ++i) pressures_.push_back(system.pressure_index(static_cast<int>(i)));
  unknowns_ = system.pressure_index(static_cast<int>(nodes));
  weight_.assign(system.mass().begin(), system.mass().begin() + static_cast<std::ptrdiff_t>(unknowns_));
  for (std::size_t u = 0; u < unknowns_; ++u) f_.push_back(after_[u] - x_[u]);
  loss_.assign(unknowns_, 1.0);
}

double Leap::change() const {
  double most = 0.0;
  for (const double f : f_) most = std::max(most, std::fabs(f));
  return most;
}

std::vector<double> Leap::aside() const {
  // To the side that the line goes to, as far as the deepest vacuum leaves room for.
  double least = step_aside / 0.2;
  for (const std::size_t p : pressures_) least = std::min(least, x_[p]);
  const double step = std::copysign(0.2 * least, product(f_, std::vector<double>(unknowns_, 1.0)));
  std::vector<double> moved = x_;
  const std::size_t each = unknowns_ / pressures_.size();
  for (const std::size_t p : pressures_)
    for (std::size_t u = p; u < p + each; ++u) moved[u] *= 1.0 + step / x_[p];  // at the temperature that it has
  return moved;
}

void Leap::came_to(const std::vector<double>& state) {
  const std::vector<double> from = aside();
  for (std::size_t u = 0; u < unknowns_; ++u)
    loss_[u] = std::clamp(1.0 - (state[u] - after_[u]) / (from[u] - x_[u]), least_told, 1.0);
}

double Leap::left() const {
  double most = 0.0;
  for (std::size_t u = 0; u < unknowns_; ++u) most = std::max(most, std::fabs(f_[u]) / loss_[u]);
  return most;
}

double Leap::least_loss() const {
  double least = 1.0;
  // A mouth that stays open stands for itself, shut off from the line.
  for (const std::size_t p : pressures_)
    if (f_[p] != 0.0) least = std::min(least, loss_[p]);
  return least;
}

double Leap::product(const std::vector<double>& a, const std::vector<double>& b) const {
  double sum = 0.0;
  for (std::size_t u = 0; u < unknowns_; ++u) sum += weight_[u] * a[u] * b[u];
  return sum;
}

std::vector<double> Leap::by_secants(const std::vector<Leap>& earlier) const {
  struct Secant {
    std::vector<double> change, state;  ///< of f, and of the state after the cycle
    double square;
  };
  std::vector<Secant> secants;
  for (auto leap = earlier.rbegin(); leap != earlier.rend() && secants.size() < most_secants; ++leap) {
    Secant s{f_, after_, 0.0};
    for (std::size_t u = 0; u < unknowns_; ++u) {
      s.change[u] -= leap->f_[u];
      s.state[u] -= leap->after_[u];
    }
    const double whole = product(s.change, s.change);
    for (const Secant& other : secants) {
      const double share = product(s.change, other.change) / other.square;
      for (std::size_t u = 0; u < unknowns_; ++u) {
        s.change[u] -= share * other.change[u];
        s.state[u] -= share * other.state[u];
      }
    }
    s.square = product(s.change, s.change);
    if (s.square > own_share * own_share * whole) secants.push_back(std::move(s));
  }
  std::vector<double> x = after_;
  for (const Secant& s : secants) {
    const double share = product(f_, s.change) / s.square;
    for (std::size_t u = 0; u < unknowns_; ++u) x[u] -= share * s.state[u];
  }
  return x;
}

std::vector<double> Leap::by_loss() const {
  // All places together, as if what they keep were one way to change.
  std::vector<double> kept(unknowns_);
  for (std::size_t u = 0; u < unknowns_; ++u) kept[u] = 1.0 - loss_[u];
  const std::vector<double> ones(unknowns_, 1.0);
  const double far = product(f_, ones) / std::max(product(loss_, ones), 1e-300);
  std::vector<double> x = after_;
  const std::size_t each = unknowns_ / pressures_.size();
  for (const std::size_t p : pressures_)  // at the temperature that each has
    for (std::size_t u = p; u < p + each; ++u) x[u] *= 1.0 + far * kept[p] / after_[p];
  return x;
}

std::vector<double> Leap::bounded(std::vector<double> x) const {
  // Half way at most to no air at all or to the room's, and no great change of temperature, wherever air is stored. The
  // places that store next to none follow these within a cycle.
  const std::size_t each = unknowns_ / pressures_.size();
  const double most = *std::max_element(weight_.begin(), weight_.end());
  const auto room = [&](std::size_t p) { return 0.5 * std::max(ambient_ - after_[p], 0.0); };
  double share = 1.0;
  for (const std::size_t p : pressures_) {
    if (weight_[p] < 1e-3 * most) continue;
    const double change = x[p] - after_[p];
    if (change > room(p)) share = std::min(share, room(p) / change);
    if (change < -0.5 * after_[p]) share = std::min(share, 0.5 * after_[p] / -change);
    for (std::size_t u = p + 1; u < p + each; ++u) {
      const double warmed = std::fabs(x[p] * after_[u] / (x[u] * after_[p]) - 1.0);
      if (warmed > most_warmed) share = std::min(share, most_warmed / warmed);
    }
  }
  for (std::size_t u = 0; u < unknowns_; ++u) x[u] = after_[u] + share * (x[u] - after_[u]);
  for (const std::size_t p : pressures_) {
    x[p] = std::clamp(x[p], 0.5 * after_[p], after_[p] + room(p));
    for (std::size_t u = p + 1; u < p + each; ++u)
      x[u] = std::clamp(x[u], (1.0 - most_warmed) * x[p] * after_[u] / after_[p],
                        (1.0 + most_warmed) * x[p] * after_[u] / after_[p]);
  }
  return x;
}

std::vector<double> Leap::onwards(const std::vector<Leap>& earlier) const {
  if (!earlier.empty()) {
    std::vector<double> x = by_secants(earlier), way = x;
    for (std::size_t u = 0; u < unknowns_; ++u) way[u] -= after_[u];
    const double ahead = product(way, f_);
    if (std::isfinite(ahead) && ahead > 0.0) return bounded(std::move(x));
  }
  return bounded(by_loss());
}

}  // namespace airtally::study
