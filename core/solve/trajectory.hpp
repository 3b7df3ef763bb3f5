#pragma once
#include <utility>
#include <vector>

#include "solve/integrate.hpp"

namespace airtally::solve {

/// The recorded course of some unknowns: every accepted step with the integrator's own fourth-order interpolation, so
/// that any time in between can be read later.
class Trajectory {
 public:
  /// `watched`: indices into the state, whose unit the values have.
  explicit Trajectory(std::vector<std::size_t> watched) : watched_(std::move(watched)) {}

  /// Takes up one accepted step, which must begin where the one before it ended. `from` [s]: what is to be added to the
  /// step's times.
  void add(const StepView& step, double from = 0.0);

  /// Whether no step was added yet.
  bool empty() const { return steps_.empty(); }
  /// When the record begins [s]; not while it is empty.
  double begin() const { return steps_.front().begin; }
  /// When the record ends [s]; not while it is empty.
  double end() const { return steps_.back().end; }
  /// Value of watched unknown `w` (an index into `watched`) at `time` [s], clamped to the record; not while it is
  /// empty.
  double at(std::size_t w, double time) const;

  /// Last time [s] at which watched unknown `w` crosses `level`, from either side, or -1 when it never does.
  double last_crossing(std::size_t w, double level) const;
  /// The same, only crossings between `from` and `to` [s] counting.
  double last_crossing(std::size_t w, double level, double from, double to) const;
  /// Highest value between `from` and `to` [s], and when [s]; read off at the two and at the quarters of the steps.
  std::pair<double, double> highest(std::size_t w, double from, double to) const;
  /// First time [s] at or after `from` [s] at which it crosses `level`, or -1 when it never does.
  double first_crossing(std::size_t w, double level, double from = 0.0) const;

 private:
  struct Step {
    double begin, end;
    std::size_t values;  ///< index into values_: five per watched unknown, at 0, 1/4, 1/2, 3/4 and 1 of the step
  };
  double inside(const Step& step, std::size_t w, double share) const;
  /// Share of the step at which the level is crossed between two shares that bracket it.
  double root(const Step& step, std::size_t w, double level, double a, double b) const;

  std::vector<std::size_t> watched_;
  std::vector<Step> steps_;
  std::vector<double> values_;
  std::vector<double> scratch_;
};

}  // namespace airtally::solve
