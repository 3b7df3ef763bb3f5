// Where joint and tube cost the same: over the joint's leak, and over the pace of the job.
#include <algorithm>
#include <cmath>
#include <limits>

#include "study/joint_private.hpp"
#include "study/reach.hpp"
#include "study/rise.hpp"

namespace airtally::study {
namespace {

constexpr double widest_clearance = 0.5e-3;  ///< [m]; beyond it a joint is no joint
constexpr double worst_leak = 1e-3;          ///< [kg/s], some 50 L/min
constexpr double infinite = std::numeric_limits<double>::infinity();

/// The value that is varied: the first leak's clearance, else its rated flow.
units::Quantity* varied(line::Element& seal) {
  for (line::Leak& leak : seal.leaks)
    if (auto* clearance = std::get_if<line::Clearance>(&leak)) return &clearance->gap;
  for (line::Leak& leak : seal.leaks)
    if (auto* rated = std::get_if<line::RatedLeak>(&leak)) return &rated->flow;
  return nullptr;
}

bool has_clearance(const line::Element& seal) {
  return std::any_of(seal.leaks.begin(), seal.leaks.end(),
                     [](const line::Leak& leak) { return std::holds_alternative<line::Clearance>(leak); });
}

/// A root of a function that rises from below zero at `low` to above zero, or to infinity, at `high`, to 0.1 % of it:
/// false position by the Illinois rule, halving where a value is infinite.
template <class F>
double rising_between(const F& f, double low, double f_low, double high, double f_high) {
  for (int i = 0; i < 60 && high - low > 1e-3 * high; ++i) {
    double x = 0.5 * (low + high);
    if (std::isfinite(f_high)) {
      x = (low * f_high - high * f_low) / (f_high - f_low);
      x = std::clamp(x, low + 2e-4 * high, high - 2e-4 * high);
    }
    const double value = f(x);
    if (value == 0.0) return x;
    if (value < 0.0) {
      low = x;
      f_low = value;
      if (std::isfinite(f_high)) f_high *= 0.5;
    } else {
      high = x;
      f_high = value;
      f_low *= 0.5;
    }
  }
  return 0.5 * (low + high);
}

}  // namespace

BreakEven break_even(const line::Line& line, const JointJob& job, const line::Element& seal, double tube_late,
                     double start, bool curve) {
  BreakEven even;
  line::Element trial = seal;
  even.clearance = has_clearance(trial);
  units::Quantity* value = varied(trial);
  if (value == nullptr) return even;  // a joint that does not leak, or through a hole: nothing to vary
  even.now = value->value;
  double most = worst_leak;
  if (even.clearance)
    for (const line::Leak& leak : trial.leaks)
      if (const auto* gap = std::get_if<line::Clearance>(&leak))
        most = std::min(widest_clearance, 0.5 * gap->diameter.value);
  const Turns turning = turns_of(job, false);
  const auto late_at = [&](double x) -> std::optional<double> {
    *value = units::Quantity(x);
    const auto reach = slowest_reach(with_seal(line, job, trial), job.needs, few_pieces);
    return reach ? std::optional(*reach + turning.late + turning.late_back) : std::nullopt;
  };
  const auto excess = [&](double x) {
    const auto late = late_at(x);
    return late ? *late - tube_late : infinite;
  };

  double low = start > 0.0 ? 0.9 * start : even.now, high = low;
  double f_low = excess(low), f_high = f_low;
  while (f_low >= 0.0 && low > 1e-3 * even.now) {
    high = low, f_high = f_low;
    low *= start > 0.0 ? 0.8 : 0.5;
    f_low = excess(low);
  }
  if (f_low >= 0.0) {
    even.outcome = BreakEven::Outcome::tube_always;
  } else {
    while (f_high < 0.0 && high < most) {
      low = high, f_low = f_high;
      high = std::min(most, high * 1.25);
      f_high = excess(high);
    }
    even.outcome = f_high < 0.0 ? BreakEven::Outcome::joint_always : BreakEven::Outcome::found;
    if (f_high >= 0.0) even.value = rising_between(excess, low, f_low, high, f_high);
  }
  if (!curve) return even;
  const double right = std::min(most, 1.5 * std::max(even.now, even.value));
  constexpr int points = 30;
  even.curve.reserve(points);
  for (int i = 1; i <= points; ++i) {
    const double x = right * i / points;
    even.curve.push_back({x, late_at(x)});
  }
  return even;
}

std::optional<double> even_pace(const JointJob& job, double joint_reach, double tube_reach) {
  const double travel = job.carry + job.back + job.other;
  if (travel <= 0.0) return std::nullopt;
  struct Cost {
    double joint, tube;
  };
  const auto cost = [&](double pace) -> Cost {
    const Turns joint = turns_of(job, false, pace), tube = turns_of(job, true, pace);
    return {joint_reach + joint.late + joint.late_back, tube_reach + tube.late + tube.late_back};
  };
  const auto tube_wins = [&](double pace) {
    const Cost both = cost(pace);
    return both.tube < both.joint;
  };
  // Slower leaves more time to unwind: where the tube wins it is below some pace.
  double fast = 0.0, slow = 1.0;
  while (!tube_wins(slow) && slow < 64.0) slow *= 2.0;
  if (!tube_wins(slow) || tube_wins(fast)) return std::nullopt;
  while (slow - fast > 1e-4 * slow) {
    const double middle = 0.5 * (slow + fast);
    (tube_wins(middle) ? slow : fast) = middle;
  }
  return 1.0 / (cost(slow).tube + slow * travel);
}

}  // namespace airtally::study
