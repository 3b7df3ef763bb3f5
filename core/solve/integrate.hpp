#pragma once
#include <functional>
#include <span>
#include <vector>

#include "solve/stiff_system.hpp"

namespace airtally::solve {

/// Error allowed per step, in the unit of the unknowns.
struct Accuracy {
  double absolute = 0.05;  ///< [Pa] > 0
  double relative = 1e-6;  ///< of the unknown [-] >= 0
};

/// One accepted step, with the state between its ends to fourth order.
class StepView {
 public:
  virtual ~StepView() = default;
  double begin = 0.0,             ///< when the step began [s]
      end = 0.0;                  ///< and when it ended [s], after `begin`
  std::span<const double> first,  ///< state at begin [the unknowns' units], one per unknown; valid during the call
      last;                       ///< state at end
  /// State at `time` [s] within the step, into `x`, one per unknown.
  virtual void at(double time, std::span<double> x) const = 0;
};

/// How an integration went.
struct IntegrationReport {
  std::size_t steps = 0;     ///< accepted
  std::size_t rejected = 0;  ///< taken again, shorter
  bool stopped = false;      ///< the watcher asked to stop before the end
};

/// Integrates from `begin` to `end` [s], hitting the end exactly, and calls `watch` after every accepted step; it
/// returns false to stop there. `x` holds the start and then the final state.
///
/// Method: Rosenbrock of order 4(3) in six stages, stiffly accurate, so that algebraic rows are met exactly
/// (RODAS; Hairer and Wanner, Solving Ordinary Differential Equations II, section IV.7 and VI.4), in mass-matrix form.
/// Boost.Odeint holds its coefficients and drives the step size; the stages are ours because the linear solves are.
/// `first_step` [s]: 0 to find one. Nothing is done when `end` is not after `begin`. Throws NoConvergence when the step
/// size collapses or after `step_limit` steps. Steps can't be shorter than the last digit of the time, so a piece of a
/// longer run is best integrated from 0; `clock` [s] is then what that run's clock shows at 0, for what is thrown.
IntegrationReport integrate(StiffSystem& system, std::vector<double>& x, double begin, double end,
                            const Accuracy& accuracy, const std::function<bool(const StepView&)>& watch,
                            double first_step = 0.0, double clock = 0.0);

/// Accepted steps after which integrate() gives up.
inline constexpr std::size_t step_limit = 200000;

}  // namespace airtally::solve
