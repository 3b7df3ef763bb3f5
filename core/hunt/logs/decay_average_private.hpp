#pragma once
#include <span>
#include <vector>

#include "hunt/logs/decay_course_private.hpp"

/// What several courses, each as likely as the log leaves it, say together of the leak's rate.
namespace airtally::hunt {

/// Probability of each course that was fitted to a log of `rows`, written to `step` [Pa] or 0; together 1. All have as
/// many unknowns, fewer than rows, of the same meaning, and are as likely before anything is logged.
///
/// With r rows, k unknowns and normal noise of the same but unknown deviation sigma, the unknowns integrated out under
/// a flat prior leave sigma^-(r-k) exp(-S/(2 sigma^2)), S the least sum of squares. Rounding alone scatters by
/// sigma_0 = step/sqrt(12), so that sigma's prior is 1/sigma from there on; integrated over it,
///
///     P(log | course) ~ S^-a gamma(a, S/(2 sigma_0^2)),  a = (r-k)/2,
///
/// gamma the lower incomplete one. That is Student's likelihood S^-a where the rows scatter by much more than the last
/// digit or that is not known, and as wary as chi^2 with that digit where they scatter by less: rows that fall on a
/// course to the digit do not rule the other out. (J^T J) is left out: in these coordinates it is the same within a
/// tenth. Not modelled: noise that hangs on from row to row. Averaging as in Hoeting, Madigan, Raftery and Volinsky,
/// Statistical Science 14 (1999) 382; formula from memory of it.
std::vector<double> probabilities(std::span<const FittedCourse> fits, std::size_t rows, double step);

/// Median and central 90 % of the rate when each course holds with its probability, its rate then normal about its own
/// best. Solved by halving what lies between the courses' own quantiles, to working precision. One course at least.
Spread90 averaged_rate(std::span<const DecayCourse> courses);
/// Standard deviation of that rate [Pa/s].
double averaged_deviation(std::span<const DecayCourse> courses);

}  // namespace airtally::hunt
