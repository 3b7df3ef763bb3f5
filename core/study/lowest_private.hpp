#pragma once
#include <cmath>

namespace airtally::study {

/// Least of a function of vacuum with one valley between two ends [Pa], by the golden section: where it lies, to a
/// thousandth of a pascal.
template <typename Function>
double lowest(double from, double to, Function function) {
  const double golden = 0.5 * (std::sqrt(5.0) - 1.0);
  double a = to - golden * (to - from), b = from + golden * (to - from);
  double at_a = function(a), at_b = function(b);
  while (to - from > 1e-3) {
    if (at_a <= at_b) {
      to = b;
      b = a;
      at_b = at_a;
      a = to - golden * (to - from);
      at_a = function(a);
    } else {
      from = a;
      a = b;
      at_a = at_b;
      b = from + golden * (to - from);
      at_b = function(b);
    }
  }
  return 0.5 * (from + to);
}

}  // namespace airtally::study
