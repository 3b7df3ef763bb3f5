#pragma once
#include <memory>
#include <span>
#include <vector>

#include "problem.hpp"

/// Well-kept general solvers, each given a Problem with its exact slopes.
namespace airtally::bench {

enum class Linear {
  dense,  ///< LAPACK-like dense factors
  klu,    ///< SuiteSparse's KLU
  tree    ///< our own elimination, put into the peer
};

/// SUNDIALS' KINSOL: Newton with line search, from the laminar secants, until no node is off by more than 1e-9 of what
/// runs through it.
class Kinsol {
 public:
  Kinsol(Problem& problem, Linear linear, std::vector<double> through);
  ~Kinsol();
  /// Iterations taken; negative when it gave up.
  int solve();
  std::span<const double> p() const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

/// A course: the tip's pressure at the times asked for [Pa].
struct Course {
  std::vector<double> tip;
  std::size_t steps = 0;
  std::size_t evaluations = 0;
};

/// What to follow and how exactly; absolute tolerance: 1e4 Pa times the relative one.
struct Task {
  int tip = 0;
  std::vector<double> times;  ///< [s], rising
  double relative = 1e-6;
  std::vector<double> start = {};       ///< node pressures [Pa]; empty: ambient everywhere
  std::vector<solve::Ramp> ramps = {};  ///< valves in motion
  std::vector<double> events = {};      ///< where every solver starts anew [s], rising, before the last time
};

/// SUNDIALS' CVODE: backward differentiation of orders 1 to 5.
class Cvode {
 public:
  Cvode(Problem& problem, Linear linear);
  ~Cvode();
  Course follow(const Task& task);

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

/// Boost.Odeint's rosenbrock4 with uBLAS' dense factors.
Course odeint_rosenbrock(Problem& problem, const Task& task);
/// Boost.Odeint's explicit Dormand-Prince 5(4).
Course odeint_explicit(Problem& problem, const Task& task);
/// Our own.
Course own(solve::Network network, const Task& task);

}  // namespace airtally::bench
