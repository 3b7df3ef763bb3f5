#include "solve/trajectory.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

namespace airtally::solve {

void Trajectory::add(const StepView& step, double from) {
  const std::size_t first = values_.size();
  values_.resize(first + 5 * watched_.size());
  scratch_.resize(step.first.size());
  for (int quarter = 0; quarter <= 4; ++quarter) {
    std::span<const double> state = step.first;
    if (quarter == 4) state = step.last;
    if (quarter > 0 && quarter < 4) {
      step.at(step.begin + 0.25 * quarter * (step.end - step.begin), scratch_);
      state = scratch_;
    }
    for (std::size_t w = 0; w < watched_.size(); ++w) values_[first + 5 * w + quarter] = state[watched_[w]];
  }
  steps_.push_back({from + step.begin, from + step.end, first});
}

double Trajectory::inside(const Step& step, std::size_t w, double s) const {
  // The interpolant has degree four, so five points give it back exactly (Lagrange).
  const double* v = &values_[step.values + 5 * w];
  const double x = 4.0 * s;
  const double a = x, b = x - 1, c = x - 2, d = x - 3, e = x - 4;
  return v[0] * b * c * d * e / 24 - v[1] * a * c * d * e / 6 + v[2] * a * b * d * e / 4 - v[3] * a * b * c * e / 6 +
         v[4] * a * b * c * d / 24;
}

double Trajectory::at(std::size_t w, double time) const {
  const auto after =
      std::lower_bound(steps_.begin(), steps_.end(), time, [](const Step& step, double t) { return step.end < t; });
  const Step& step = after == steps_.end() ? steps_.back() : *after;
  // A step may be shorter than the last digit of a late time.
  if (!(step.end > step.begin)) return inside(step, w, 1.0);
  return inside(step, w, std::clamp((time - step.begin) / (step.end - step.begin), 0.0, 1.0));
}

double Trajectory::root(const Step& step, std::size_t w, double level, double a, double b) const {
  const auto off = [&](double s) { return inside(step, w, s) - level; };
  const double fa = off(a), fb = off(b);
  if (fa == 0.0) return a;
  if (fb == 0.0) return b;
  if (fa * fb > 0.0) return std::fabs(fa) < std::fabs(fb) ? a : b;  // a crossing at an end, but for rounding
  std::uintmax_t most = 60;
  const auto bracket =
      boost::math::tools::toms748_solve(off, a, b, fa, fb, boost::math::tools::eps_tolerance<double>(48), most);
  return 0.5 * (bracket.first + bracket.second);
}

double Trajectory::last_crossing(std::size_t w, double level) const { return last_crossing(w, level, begin(), end()); }

double Trajectory::last_crossing(std::size_t w, double level, double from, double to) const {
  for (auto step = steps_.rbegin(); step != steps_.rend(); ++step) {
    if (step->begin > to) continue;
    if (step->end < from) break;
    const double* v = &values_[step->values + 5 * w];
    for (int quarter = 4; quarter > 0; --quarter) {
      if ((v[quarter] - level) * (v[quarter - 1] - level) > 0.0 || v[quarter] == v[quarter - 1]) continue;
      const double t =
          step->begin + (step->end - step->begin) * root(*step, w, level, 0.25 * (quarter - 1), 0.25 * quarter);
      if (t >= from && t <= to) return t;
    }
  }
  return -1.0;
}

std::pair<double, double> Trajectory::highest(std::size_t w, double from, double to) const {
  std::pair<double, double> best{at(w, from), from};
  const auto see = [&](double value, double time) {
    if (value > best.first) best = {value, time};
  };
  see(at(w, to), to);
  for (const Step& step : steps_)
    for (int quarter = 0; quarter <= 4; ++quarter) {
      const double time = step.begin + 0.25 * quarter * (step.end - step.begin);
      if (time >= from && time <= to) see(values_[step.values + 5 * w + quarter], time);
    }
  return best;
}

double Trajectory::first_crossing(std::size_t w, double level, double from) const {
  for (const Step& step : steps_) {
    if (step.end < from) continue;
    const double* v = &values_[step.values + 5 * w];
    for (int quarter = 1; quarter <= 4; ++quarter) {
      if ((v[quarter] - level) * (v[quarter - 1] - level) > 0.0 || v[quarter] == v[quarter - 1]) continue;
      const double t =
          step.begin + (step.end - step.begin) * root(step, w, level, 0.25 * (quarter - 1), 0.25 * quarter);
      if (t >= from) return t;
    }
  }
  return -1.0;
}

}  // namespace airtally::solve
