#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "solve/integrate.hpp"

using namespace airtally::solve;
using Catch::Matchers::WithinAbs;

namespace {

/// y' = L (g(t) - y) with g = cos(w t): stiff or not as L says, and driven from outside. With y(0) = 1 its solution is
/// (L^2 cos wt + L w sin wt)/(L^2 + w^2) + w^2/(L^2 + w^2) e^(-L t).
class Driven final : public StiffSystem {
 public:
  explicit Driven(double speed) : speed_(speed) {}
  std::size_t size() const override { return 1; }
  std::span<const double> mass() const override { return mass_; }
  void rate(double t, std::span<const double> x, std::span<double> f) override {
    f[0] = speed_ * (std::cos(turns * t) - x[0]);
  }
  void rate_and_factor(double t, std::span<const double> x, double shift, std::span<double> f) override {
    rate(t, x, f);
    shift_ = shift;
  }
  void solve(std::span<double> b) override { b[0] /= shift_ + speed_; }
  bool moves(double, double) const override { return true; }

  double exact(double t) const {
    const double scale = 1.0 / (speed_ * speed_ + turns * turns);
    return scale * (speed_ * speed_ * std::cos(turns * t) + speed_ * turns * std::sin(turns * t) +
                    turns * turns * std::exp(-speed_ * t));
  }
  static constexpr double turns = 5.0;

 private:
  double speed_, shift_ = 0.0;
  std::vector<double> mass_{1.0};
};

struct Outcome {
  double error;
  std::size_t steps;
};

Outcome solve_with(double speed, double tolerance) {
  Driven system(speed);
  std::vector<double> x{1.0};
  const IntegrationReport report = integrate(system, x, 0.0, 1.0, {tolerance, tolerance}, {});
  return {std::fabs(x[0] - system.exact(1.0)), report.steps};
}

/// Largest error at the ends of `count` equal steps from 0 to 1.
double error_with_equal_steps(int count) {
  Driven system(3.0);
  std::vector<double> x{1.0};
  const double h = 1.0 / count;
  double worst = 0.0;
  for (int k = 0; k < count; ++k) {
    integrate(system, x, k * h, (k + 1) * h, {1.0, 1.0}, {}, h);
    worst = std::max(worst, std::fabs(x[0] - system.exact((k + 1) * h)));
  }
  return worst;
}

}  // namespace

// Halving the step must divide the error by 2^4. With the sign of Odeint 1.74's fourth time weight it divides it by 4.
TEST_CASE("a system that is driven from outside is integrated to fourth order", "[solve][closed-form][regression]") {
  for (int count : {16, 32, 64}) {
    CAPTURE(count);
    const double order = std::log2(error_with_equal_steps(count) / error_with_equal_steps(2 * count));
    CHECK_THAT(order, WithinAbs(4.0, 0.2));
  }
}

TEST_CASE("a stiff driven system keeps its accuracy without resolving its fastest time", "[solve][closed-form]") {
  for (double speed : {1e3, 1e5, 1e7}) {
    const Outcome outcome = solve_with(speed, 1e-7);
    CAPTURE(speed, outcome.steps);
    CHECK(outcome.error < 1e-6);
    CHECK(static_cast<double>(outcome.steps) < speed);  // steps of the fastest time would be as many as its rate
  }
}
