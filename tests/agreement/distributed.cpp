#include "agreement/distributed.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "agreement/cvode.hpp"
#include "laws/duct.hpp"
#include "laws/friction.hpp"

namespace airtally::agreement {
namespace {

/// Unknowns from the tip: p of the tip volume, p of each cell, p of the pump volume.
class Friction {
 public:
  Friction(const TubeLine& line, int cells) : line_(line), n_(static_cast<std::size_t>(cells)) {}
  std::vector<double> start() const { return std::vector<double>(n_ + 2, line_.ambient); }
  std::vector<double> tolerances() const { return std::vector<double>(n_ + 2, 1e-3); }
  static constexpr int band = 1;

  void operator()(double, std::span<const double> p, std::span<double> f) const {
    const double rt = line_.air.rt, dx = line_.length / static_cast<double>(n_);
    const double cell = 0.25 * std::numbers::pi * line_.bore * line_.bore * dx;
    std::fill(f.begin(), f.end(), 0.0);
    f[0] = laws::conductance(line_.leak, {line_.ambient, p[0]}, line_.air).m;
    f[n_ + 1] = -line_.pump.at(p[n_ + 1]).m;
    for (std::size_t j = 0; j <= n_; ++j) {
      laws::Duct gap{line_.bore, j == 0 || j == n_ ? 0.5 * dx : dx, 0.0, 0.0, 0.0};
      if (j == 0) gap.loss_forward = gap.loss_back = 0.5;
      if (j == n_) gap.loss_forward = gap.loss_back = 1.0;
      if (j == 0) gap.loss_back = 1.0;
      if (j == n_) gap.loss_back = 0.5;
      const double m = laws::duct(gap, {p[j], p[j + 1]}, line_.air).m;
      f[j] -= m;
      f[j + 1] += m;
    }
    f[0] *= rt / line_.tip_volume;
    f[n_ + 1] *= rt / line_.pump_volume;
    for (std::size_t i = 1; i <= n_; ++i) f[i] *= rt / cell;
  }

 private:
  const TubeLine& line_;
  std::size_t n_;
};

/// Unknowns from the tip: p of the tip volume, m at the first border, p of the first cell, ..., p of the pump volume.
class GasDynamics {
 public:
  GasDynamics(const TubeLine& line, int cells) : line_(line), n_(static_cast<std::size_t>(cells)) {}
  std::vector<double> start() const {
    std::vector<double> y(2 * n_ + 3, 0.0);
    for (std::size_t i = 0; i < y.size(); i += 2) y[i] = line_.ambient;
    return y;
  }
  std::vector<double> tolerances() const {
    std::vector<double> t(2 * n_ + 3, 1e-2);
    for (std::size_t i = 1; i < t.size(); i += 2) t[i] = 1e-7 * line_.pump.free_flow();
    return t;
  }
  static constexpr int band = 3;

  void operator()(double, std::span<const double> y, std::span<double> f) const {
    const double rt = line_.air.rt, d = line_.bore, dx = line_.length / static_cast<double>(n_);
    const double area = 0.25 * std::numbers::pi * d * d;
    const auto p = [&](std::size_t i) { return y[2 * i]; };      // 0: tip, 1..n: cells, n + 1: pump
    const auto m = [&](std::size_t j) { return y[2 * j + 1]; };  // border between p(j) and p(j + 1)
    const auto flux = [&](std::size_t i) {                       // of momentum through the middle of cell i
      const double mean = 0.5 * (m(i - 1) + m(i));
      return mean * (mean > 0.0 ? m(i - 1) : m(i)) * rt / (p(i) * area);
    };
    f[0] = (laws::conductance(line_.leak, {line_.ambient, p(0)}, line_.air).m - m(0)) * rt / line_.tip_volume;
    for (std::size_t i = 1; i <= n_; ++i) f[2 * i] = (m(i - 1) - m(i)) * rt / (area * dx);
    f[2 * n_ + 2] = (m(n_) - line_.pump.at(p(n_ + 1)).m) * rt / line_.pump_volume;
    for (std::size_t j = 0; j <= n_; ++j) {
      const bool first = j == 0, last = j == n_;
      const double span = first || last ? 0.5 * dx : dx, mj = m(j);
      const double rho = 0.5 * (p(j) + p(j + 1)) / rt;
      // f |m| = (f Re) mu A/D, which stays finite at rest.
      const double re = 4.0 * std::fabs(mj) / (std::numbers::pi * d * line_.air.viscosity);
      double pull = area * (p(j) - p(j + 1)) / span;
      pull -= laws::churchill(re, 0.0).g * line_.air.viscosity * mj / (2.0 * d * d * rho);
      if (!first && !last) pull -= (flux(j + 1) - flux(j)) / dx;
      if ((first && mj > 0.0) || (last && mj < 0.0)) pull -= 1.5 * mj * std::fabs(mj) / (2.0 * rho * area * span);
      f[2 * j + 1] = pull;
    }
  }

 private:
  const TubeLine& line_;
  std::size_t n_;
};

template <class Equations>
Course run(const Equations& equations, const TubeLine& line, double end, int samples, double relative) {
  Cvode cvode(equations, equations.start(), 0.0, relative, equations.tolerances(), Equations::band);
  Course course;
  for (int s = 0; s <= samples; ++s) {
    const double t = end * s / samples;
    if (s > 0) cvode.advance(t);
    course.time.push_back(t);
    course.vacuum.push_back(line.ambient - cvode.y()[0]);
  }
  course.final_vacuum = course.vacuum.back();
  return course;
}

}  // namespace

double Course::at(double t) const {
  const auto after = std::lower_bound(time.begin(), time.end(), t);
  if (after == time.begin()) return vacuum.front();
  if (after == time.end()) return vacuum.back();
  const std::size_t k = static_cast<std::size_t>(after - time.begin());
  const double share = (t - time[k - 1]) / (time[k] - time[k - 1]);
  return vacuum[k - 1] + share * (vacuum[k] - vacuum[k - 1]);
}

double Course::settle(double final) const {
  for (std::size_t k = vacuum.size(); k-- > 1;) {
    for (double level : {0.95 * final, 1.05 * final})
      if ((vacuum[k] - level) * (vacuum[k - 1] - level) <= 0.0 && vacuum[k] != vacuum[k - 1])
        return time[k - 1] + (time[k] - time[k - 1]) * (level - vacuum[k - 1]) / (vacuum[k] - vacuum[k - 1]);
  }
  return 0.0;
}

Course distributed(const TubeLine& line, int cells, Inertia inertia, double end, int samples, double relative) {
  if (inertia == Inertia::left_out) return run(Friction(line, cells), line, end, samples, relative);
  return run(GasDynamics(line, cells), line, end, samples, relative);
}

}  // namespace airtally::agreement
