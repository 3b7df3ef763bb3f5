#pragma once
#include <cstddef>
#include <functional>
#include <vector>

/// A problem in the words of C++17, for the one peer that is no C++20.
namespace airtally::bench {

struct PlainProblem {
  std::size_t size = 0;
  double ambient = 0.0;                                    ///< [Pa]
  std::size_t tip = 0;                                     ///< unknown to follow
  std::function<void(const double* p, double* f)> rate;    ///< f = dp/dt [Pa/s]
  std::function<void(const double* p, double* j)> slopes;  ///< df/dp, row after row
};

/// Tip pressure at each of `times` [s, rising], and the number of steps.
std::size_t plain_rosenbrock(const PlainProblem& problem, double relative, const std::vector<double>& times,
                             std::vector<double>& tip);
std::size_t plain_explicit(const PlainProblem& problem, double relative, const std::vector<double>& times,
                           std::vector<double>& tip);

}  // namespace airtally::bench
