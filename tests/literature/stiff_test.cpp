// The integrator on published stiff problems.
#include <catch2/catch.hpp>
#include <cmath>

#include "solve/integrate.hpp"
#include "support/dense_system.hpp"

using namespace airtally;
using airtally::support::DenseSystem;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using Vector = std::vector<double>;

namespace {

/// Integrates through `times` from 0 and checks the components listed per time to `tolerance` of each.
void check_course(DenseSystem& system, Vector x, const solve::Accuracy& accuracy, const Vector& times,
                  const std::vector<Vector>& expected, double tolerance) {
  double t = 0.0;
  for (std::size_t k = 0; k < times.size(); ++k) {
    solve::integrate(system, x, t, times[k], accuracy, {});
    t = times[k];
    for (std::size_t i = 0; i < expected[k].size(); ++i) {
      CAPTURE(t, i);
      if (expected[k][i] != 0.0) CHECK_THAT(x[i], WithinRel(expected[k][i], tolerance));
    }
  }
}

// Robertson's kinetics. Row 1e11: Test Set for IVP Solvers; the others: Hairer and Wanner, Solving ODEs II, confirmed
// by CVODE at rtol 1e-10. Ten digits; 3e-6 is what a tight run gives.
const Vector robertson_times{0.4, 40.0, 4e4, 1e11};
const std::vector<Vector> robertson{{0.9851721139, 3.386395379e-5, 0.01479402218},
                                    {0.7158270688, 9.185534765e-6, 0.2841637457},
                                    {0.03898337710, 1.621768318e-7, 0.9610164607},
                                    {2.083340150e-8, 8.333360770e-14, 0.9999999792}};

}  // namespace

TEST_CASE("Robertson's problem", "[solve][literature]") {
  DenseSystem system(
      {1.0, 1.0, 1.0},
      [](auto y, auto f) {
        f[0] = -0.04 * y[0] + 1e4 * y[1] * y[2];
        f[2] = 3e7 * y[1] * y[1];
        f[1] = -f[0] - f[2];
      },
      [](auto y, Eigen::MatrixXd& j) {
        j << -0.04, 1e4 * y[2], 1e4 * y[1], 0.04, -1e4 * y[2] - 6e7 * y[1], -1e4 * y[1], 0.0, 6e7 * y[1], 0.0;
      });
  check_course(system, {1.0, 0.0, 0.0}, {1e-18, 1e-9}, robertson_times, robertson, 3e-6);
}

TEST_CASE("Robertson's problem with its balance as an algebraic row", "[solve][literature]") {
  // y1 + y2 + y3 = 1 in place of the third equation: a row without mass, as a place without volume has.
  DenseSystem system(
      {1.0, 1.0, 0.0},
      [](auto y, auto f) {
        f[0] = -0.04 * y[0] + 1e4 * y[1] * y[2];
        f[1] = -f[0] - 3e7 * y[1] * y[1];
        f[2] = y[0] + y[1] + y[2] - 1.0;
      },
      [](auto y, Eigen::MatrixXd& j) {
        j << -0.04, 1e4 * y[2], 1e4 * y[1], 0.04, -1e4 * y[2] - 6e7 * y[1], -1e4 * y[1], 1.0, 1.0, 1.0;
      });
  Vector x{1.0, 0.0, 0.0};
  const std::vector<Vector> first(robertson.begin(), robertson.begin() + 3);
  check_course(system, x, {1e-18, 1e-9}, {0.4, 40.0, 4e4}, first, 3e-6);
  solve::integrate(system, x, 0.0, 40.0, {1e-18, 1e-9}, [](const solve::StepView& step) {
    CHECK(std::fabs(step.last[0] + step.last[1] + step.last[2] - 1.0) <= 1e-14);  // met exactly, after every step
    return true;
  });
}

TEST_CASE("Van der Pol's stiff problem", "[solve][literature]") {
  // Test Set for IVP Solvers, vdpol.f, eps = 1e-6, t = 2; its own tolerance.
  DenseSystem system(
      {1.0, 1.0},
      [](auto y, auto f) {
        f[0] = y[1];
        f[1] = ((1.0 - y[0] * y[0]) * y[1] - y[0]) / 1e-6;
      },
      [](auto y, Eigen::MatrixXd& j) { j << 0.0, 1.0, (-2.0 * y[0] * y[1] - 1.0) / 1e-6, (1.0 - y[0] * y[0]) / 1e-6; });
  check_course(system, {2.0, 0.0}, {1e-12, 1e-11}, {2.0}, {{1.706167732170483, -0.8928097010247975}}, 1e-7);
}

TEST_CASE("HIRES", "[solve][literature]") {
  // Test Set for IVP Solvers, hires.f: y1, y2, y3 and y8 at t = 321.8122.
  DenseSystem system(
      Vector(8, 1.0),
      [](auto y, auto f) {
        f[0] = -1.71 * y[0] + 0.43 * y[1] + 8.32 * y[2] + 0.0007;
        f[1] = 1.71 * y[0] - 8.75 * y[1];
        f[2] = -10.03 * y[2] + 0.43 * y[3] + 0.035 * y[4];
        f[3] = 8.32 * y[1] + 1.71 * y[2] - 1.12 * y[3];
        f[4] = -1.745 * y[4] + 0.43 * y[5] + 0.43 * y[6];
        f[5] = -280.0 * y[5] * y[7] + 0.69 * y[3] + 1.71 * y[4] - 0.43 * y[5] + 0.69 * y[6];
        f[6] = 280.0 * y[5] * y[7] - 1.81 * y[6];
        f[7] = -f[6];
      },
      [](auto y, Eigen::MatrixXd& j) {
        j.row(0) << -1.71, 0.43, 8.32, 0, 0, 0, 0, 0;
        j.row(1) << 1.71, -8.75, 0, 0, 0, 0, 0, 0;
        j.row(2) << 0, 0, -10.03, 0.43, 0.035, 0, 0, 0;
        j.row(3) << 0, 8.32, 1.71, -1.12, 0, 0, 0, 0;
        j.row(4) << 0, 0, 0, 0, -1.745, 0.43, 0.43, 0;
        j.row(5) << 0, 0, 0, 0.69, 1.71, -280.0 * y[7] - 0.43, 0.69, -280.0 * y[5];
        j.row(6) << 0, 0, 0, 0, 0, 280.0 * y[7], -1.81, 280.0 * y[5];
        j.row(7) = -j.row(6);
      });
  check_course(system, {1, 0, 0, 0, 0, 0, 0, 0.0057}, {1e-16, 1e-11}, {321.8122},
               {{0.7371312573e-3, 0.1442485726e-3, 0.5888729741e-4, 0, 0, 0, 0, 0.2850001605e-2}}, 1e-7);
}

TEST_CASE("two volumes and a pump, against the matrix exponential", "[solve][literature]") {
  // 1 mL at the nozzle, 1e-6 m3/s to 100 mL at the pump, which takes 1e-5 m3/s; from 100 kPa, 10 s. Eigenvalues
  // -1.01110 and -0.09890 1/s, nozzle 41.2262 kPa (value recomputed; six digits, linear algebra).
  const double v1 = 1e-6, v2 = 1e-4, g = 1e-6, s = 1e-5;
  DenseSystem system(
      {v1, v2},
      [=](auto p, auto f) {
        f[0] = g * (p[1] - p[0]);
        f[1] = g * (p[0] - p[1]) - s * p[1];
      },
      [=](auto, Eigen::MatrixXd& j) { j << -g, g, g, -g - s; });
  Vector p{1e5, 1e5};
  solve::integrate(system, p, 0.0, 10.0, {1e-4, 1e-10}, {});
  CHECK_THAT(p[0], WithinRel(41.2262e3, 1e-5));
  // The exponential from the two eigenvalues, by Sylvester's formula.
  Eigen::Matrix2d a;
  a << -g / v1, g / v1, g / v2, -(g + s) / v2;
  const double mean = 0.5 * a.trace(), half = std::sqrt(mean * mean - a.determinant());
  const double slow = mean + half, fast = mean - half;
  CHECK_THAT(fast, WithinRel(-1.01110, 1e-5));
  CHECK_THAT(slow, WithinRel(-0.1 / 1.01110, 1e-5));  // their product is (g/v1)(s/v2)
  const Eigen::Matrix2d one = Eigen::Matrix2d::Identity();
  const Eigen::Vector2d exact = (std::exp(10 * slow) * (a - fast * one) - std::exp(10 * fast) * (a - slow * one)) *
                                Eigen::Vector2d(1e5, 1e5) / (slow - fast);
  CHECK_THAT(p[0], WithinRel(exact[0], 1e-8));
  CHECK_THAT(p[1], WithinRel(exact[1], 1e-8));
}

TEST_CASE("a pump behind a conductance", "[solve][literature]") {
  // Speeds add as conductances in series: 0.1 and 0.1 L/s take 1 L from 100 to 20 kPa in 32.189 s (university
  // surface-physics notes; five digits). The place between them has no volume.
  const double v = 1e-3, g = 1e-4, s = 1e-4;
  DenseSystem system(
      {v, 0.0},
      [=](auto p, auto f) {
        f[0] = g * (p[1] - p[0]);
        f[1] = g * (p[0] - p[1]) - s * p[1];
      },
      [=](auto, Eigen::MatrixXd& j) { j << -g, g, g, -g - s; });
  Vector p{1e5, 5e4};
  solve::integrate(system, p, 0.0, 32.189, {1e-4, 1e-10}, {});
  CHECK_THAT(p[0], WithinRel(20e3, 5e-5));
  CHECK_THAT(p[1], WithinRel(0.5 * p[0], 1e-12));
}

TEST_CASE("the integrator shows order four", "[solve][closed-form]") {
  // y' = -y^2, y = 1/(1 + t): halving equal steps must divide the error by 2^4.
  const auto error = [](int count) {
    DenseSystem system(
        {1.0}, [](auto y, auto f) { f[0] = -y[0] * y[0]; }, [](auto y, Eigen::MatrixXd& j) { j(0, 0) = -2.0 * y[0]; });
    Vector x{1.0};
    for (int k = 0; k < count; ++k)
      solve::integrate(system, x, double(k) / count, double(k + 1) / count, {1.0, 1.0}, {}, 1.0 / count);
    return std::fabs(x[0] - 0.5);
  };
  CHECK_THAT(std::log2(error(20) / error(40)), WithinAbs(4.0, 0.1));
  CHECK_THAT(std::log2(error(40) / error(80)), WithinAbs(4.0, 0.05));
}
