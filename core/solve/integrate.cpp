#include "solve/integrate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/numeric/odeint/stepper/rosenbrock4.hpp>
#include <boost/numeric/odeint/stepper/rosenbrock4_controller.hpp>
#include <cmath>
#include <functional>
#include <utility>  // before Odeint, which needs it and does not ask for it

#include "errors.hpp"
#include "solve/tally.hpp"

namespace airtally::solve {
namespace {

namespace odeint = boost::numeric::odeint;

/// The stepper that Odeint's controller drives: Odeint's Rosenbrock coefficients, our mass matrix and linear solves.
class RosenbrockStepper {
 public:
  using value_type = double;
  using state_type = std::vector<double>;
  using deriv_type = state_type;
  using time_type = double;
  using wrapped_state_type = odeint::state_wrapper<state_type>;
  using wrapped_deriv_type = wrapped_state_type;
  using resizer_type = odeint::initially_resizer;
  using stepper_category = odeint::stepper_tag;
  using order_type = unsigned short;
  static constexpr order_type stepper_order = 4;
  [[maybe_unused]] static constexpr order_type error_order = 3;

  order_type order() const { return stepper_order; }

  std::size_t evaluations = 0;  ///< of the system, all steps together

  void do_step(StiffSystem& system, const state_type& x, double t, state_type& next, double dt, state_type& error) {
    const std::size_t n = x.size();
    adjust_size(x);
    const std::span<const double> mass = system.mass();
    const auto& c = c_;
    const double per_dt = 1.0 / dt;

    const bool moves = system.moves(t, t + dt);
    evaluations += moves ? 8 : 6;
    if (moves) {
      // df/dt by a difference: the stages need it to their own order only, and the motion is smooth within a step.
      const double ahead = 1e-6 * dt;
      system.rate(t, x, u1_);
      system.rate(t + ahead, x, drift_);
      for (std::size_t i = 0; i < n; ++i) drift_[i] = (drift_[i] - u1_[i]) / ahead;
    }
    const auto add_drift = [&](state_type& u, double weight) {
      if (moves)
        for (std::size_t i = 0; i < n; ++i) u[i] += dt * weight * drift_[i];
    };
    system.rate_and_factor(t, x, per_dt / c.gamma, u1_);
    add_drift(u1_, c.d1);
    system.solve(u1_);

    for (std::size_t i = 0; i < n; ++i) y_[i] = x[i] + c.a21 * u1_[i];
    system.rate(t + c.c2 * dt, y_, u2_);
    add_drift(u2_, c.d2);
    for (std::size_t i = 0; i < n; ++i) u2_[i] += mass[i] * per_dt * (c.c21 * u1_[i]);
    system.solve(u2_);

    for (std::size_t i = 0; i < n; ++i) y_[i] = x[i] + c.a31 * u1_[i] + c.a32 * u2_[i];
    system.rate(t + c.c3 * dt, y_, u3_);
    add_drift(u3_, c.d3);
    for (std::size_t i = 0; i < n; ++i) u3_[i] += mass[i] * per_dt * (c.c31 * u1_[i] + c.c32 * u2_[i]);
    system.solve(u3_);

    for (std::size_t i = 0; i < n; ++i) y_[i] = x[i] + c.a41 * u1_[i] + c.a42 * u2_[i] + c.a43 * u3_[i];
    system.rate(t + c.c4 * dt, y_, u4_);
    // Odeint 1.74 has d4 with the wrong sign: Hairer and Wanner's code RODAS says -0.0362, and only that gives order
    // four.
    add_drift(u4_, -c.d4);
    for (std::size_t i = 0; i < n; ++i) u4_[i] += mass[i] * per_dt * (c.c41 * u1_[i] + c.c42 * u2_[i] + c.c43 * u3_[i]);
    system.solve(u4_);

    for (std::size_t i = 0; i < n; ++i)
      y_[i] = x[i] + c.a51 * u1_[i] + c.a52 * u2_[i] + c.a53 * u3_[i] + c.a54 * u4_[i];
    system.rate(t + dt, y_, u5_);
    for (std::size_t i = 0; i < n; ++i)
      u5_[i] += mass[i] * per_dt * (c.c51 * u1_[i] + c.c52 * u2_[i] + c.c53 * u3_[i] + c.c54 * u4_[i]);
    system.solve(u5_);

    for (std::size_t i = 0; i < n; ++i) y_[i] += u5_[i];
    system.rate(t + dt, y_, error);
    for (std::size_t i = 0; i < n; ++i)
      error[i] +=
          mass[i] * per_dt * (c.c61 * u1_[i] + c.c62 * u2_[i] + c.c63 * u3_[i] + c.c64 * u4_[i] + c.c65 * u5_[i]);
    system.solve(error);
    for (std::size_t i = 0; i < n; ++i) next[i] = y_[i] + error[i];
  }

  void prepare_dense_output() {
    const auto& c = c_;
    for (std::size_t i = 0; i < u1_.size(); ++i) {
      third_[i] = c.d21 * u1_[i] + c.d22 * u2_[i] + c.d23 * u3_[i] + c.d24 * u4_[i] + c.d25 * u5_[i];
      fourth_[i] = c.d31 * u1_[i] + c.d32 * u2_[i] + c.d33 * u3_[i] + c.d34 * u4_[i] + c.d35 * u5_[i];
    }
  }

  /// The state a share `s` of the way through the last step.
  void between(double s, std::span<const double> first, std::span<const double> last, std::span<double> x) const {
    const double r = 1.0 - s;
    for (std::size_t i = 0; i < x.size(); ++i) x[i] = first[i] * r + s * (last[i] + r * (third_[i] + s * fourth_[i]));
  }

  template <class State>
  void adjust_size(const State& x) {
    for (state_type* v : {&u1_, &u2_, &u3_, &u4_, &u5_, &y_, &third_, &fourth_, &drift_}) v->resize(x.size());
  }

 private:
  odeint::default_rosenbrock_coefficients<double> c_;
  state_type u1_, u2_, u3_, u4_, u5_, y_, third_, fourth_, drift_;
};

using Controller = odeint::rosenbrock4_controller<RosenbrockStepper>;

class View final : public StepView {
 public:
  explicit View(Controller& controller) : controller_(controller) {}
  void at(double time, std::span<double> x) const override {
    controller_.stepper().between((time - begin) / (end - begin), first, last, x);
  }

 private:
  Controller& controller_;
};

/// Counts a run when it ends, however it ends.
class Counted {
 public:
  Counted(Controller& controller, const IntegrationReport& report) : controller_(controller), report_(report) {}
  ~Counted() {
    if (Work* work = Work::current()) work->ran(report_.steps, report_.rejected, controller_.stepper().evaluations);
  }
  Counted(const Counted&) = delete;
  Counted& operator=(const Counted&) = delete;

 private:
  Controller& controller_;
  const IntegrationReport& report_;
  WorkTime time_;
};

/// A step this share of the longest so far has met a kink, such as a check valve that opens. What a stage leaves in the
/// algebraic rows there does not shrink with the step, so the rows are solved by themselves before the next.
constexpr double collapsed = 1e-4;

constexpr double shortest_step = 1e-20;  ///< [s]; nothing in a line moves as fast

/// A first step by which the fastest unknown would move by a thousandth of its size (Hairer, Norsett and Wanner,
/// Solving ODEs I, section II.4, step (a)), so that a start from rest costs no rejected steps.
double guess_step(StiffSystem& system, double t, const std::vector<double>& x) {
  std::vector<double> f(x.size());
  system.rate(t, x, f);
  const std::span<const double> mass = system.mass();
  double fastest = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i)
    if (mass[i] > 0.0) fastest = std::max(fastest, std::fabs(f[i] / mass[i]) / (std::fabs(x[i]) + 1.0));
  return fastest > 0.0 ? 1e-3 / fastest : 1e-3;
}

}  // namespace

IntegrationReport integrate(StiffSystem& system, std::vector<double>& x, double begin, double end,
                            const Accuracy& accuracy, const std::function<bool(const StepView&)>& watch,
                            double first_step, double clock) {
  IntegrationReport report;
  if (end <= begin) return report;
  system.needs(accuracy.relative);
  Controller controller(accuracy.absolute, accuracy.relative);
  controller.stepper().adjust_size(x);
  const Counted counted(controller, report);
  std::vector<double> next(x.size());
  View view(controller);

  double t = begin, dt = first_step > 0.0 ? first_step : guess_step(system, begin, x), longest = 0.0;
  while (t < end) {
    // The last step lands on the end; a crumb left over after it would be a step too small to take.
    const bool lands = t + dt >= end - 1e-3 * dt;
    double step = lands ? end - t : dt;
    if (!lands && dt < collapsed * longest) {
      system.settle_massless(t, x);
      system.needs(accuracy.relative);
      longest = dt;  // not again before the next collapse
    }
    double reached = t;
    const auto result = controller.try_step(std::ref(system), x, reached, next, step);
    const bool sound = std::all_of(next.begin(), next.end(), [](double value) { return std::isfinite(value); });
    if (result == odeint::fail || !sound) {
      ++report.rejected;
      dt = result == odeint::fail ? step : 0.1 * (lands ? end - t : dt);
      if (!(dt > std::max(1e-14 * std::fabs(t), shortest_step)))
        throw NoConvergence(fmt::format("the run stopped at {:.6g} s: the step size fell to {:.1e} s.", clock + t, dt));
      continue;
    }
    ++report.steps;
    controller.stepper().prepare_dense_output();
    view.begin = t;
    view.end = lands ? end : reached;
    view.first = x;
    view.last = next;
    longest = std::max(longest, view.end - view.begin);
    const bool go_on = !watch || watch(view);
    x.swap(next);
    t = view.end;
    system.accepted(t, x);
    dt = lands ? dt : step;
    if (!go_on) {
      report.stopped = true;
      return report;
    }
    if (report.steps >= step_limit)
      throw NoConvergence(fmt::format("the run stopped at {:.6g} s after {} steps.", clock + t, report.steps));
  }
  return report;
}

}  // namespace airtally::solve
