#pragma once
#include <span>
#include <vector>

#include "hunt/fit/least_squares.hpp"
#include "hunt/logs/decay.hpp"

/// The courses that a decay can take, in closed form, and the one of a kind that fits best.
namespace airtally::hunt {

/// The shape of a leak's inflow over p/p_amb, 1 when choked or at nothing.
double shape(Inflow inflow, double ratio);

/// What is fitted: start pressure, leak's rate at the reference, and the 1/t part's A and ln t0.
struct Course {
  Inflow inflow = Inflow::laminar;
  bool leak = true;
  bool outgassing = false;
  double ambient = 0.0;    ///< [Pa, absolute]
  double reference = 0.0;  ///< p/p_amb at which the rate counts

  std::size_t unknowns() const { return 1 + (leak ? 1 : 0) + (outgassing ? 2 : 0); }
  /// Pressure [Pa, absolute] after `time` [s].
  double at(std::span<const double> x, double time) const;
};

/// A course of that kind at its best.
struct FittedCourse {
  Course course;
  Fit fit;
  double variance = 0.0;  ///< of one reading [Pa2]
};

/// Fits `course` to pressures [Pa, absolute] over time [s] from `start`.
FittedCourse run(const Course& course, std::span<const double> time, std::span<const double> pressure,
                 std::vector<double> start);

/// Chance that `more`, with as many unknowns more as it has, fits better than `less` by so much when `less` is right.
double chance_of_gain(const FittedCourse& less, const FittedCourse& more, std::size_t rows);

}  // namespace airtally::hunt
