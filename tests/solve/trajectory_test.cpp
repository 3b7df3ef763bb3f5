// A recorded course: read back exactly where it is a polynomial of degree four, with the right crossings.
#include "solve/trajectory.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace airtally::solve;
using Catch::Matchers::WithinAbs;

namespace {

/// Steps of a course known in closed form.
class Known final : public StepView {
 public:
  Known(double from, double to, double (*f)(double)) : first_{f(from)}, last_{f(to)}, f_(f) {
    begin = from;
    end = to;
    first = first_;
    last = last_;
  }
  void at(double time, std::span<double> x) const override { x[0] = f_(time); }

 private:
  std::vector<double> first_, last_;
  double (*f_)(double);
};

Trajectory recorded(double (*f)(double), std::initializer_list<double> times) {
  Trajectory course({0});
  for (auto t = times.begin(); t + 1 != times.end(); ++t) course.add(Known(t[0], t[1], f));
  return course;
}

double quartic(double t) { return 3.0 - 2.0 * t + t * t - 0.5 * t * t * t + 0.1 * t * t * t * t; }

/// Falls, comes back up, and falls again: crosses 0 at 1, 2 and 3.
double cubic(double t) { return -(t - 1.0) * (t - 2.0) * (t - 3.0); }

}  // namespace

TEST_CASE("a course of degree four is read back exactly", "[solve][closed-form]") {
  const Trajectory course = recorded(quartic, {0.0, 0.3, 1.0, 2.5});
  CHECK(course.begin() == 0.0);
  CHECK(course.end() == 2.5);
  for (double t = 0.0; t <= 2.5; t += 0.01) CHECK_THAT(course.at(0, t), WithinAbs(quartic(t), 1e-13));
  CHECK_THAT(course.at(0, -1.0), WithinAbs(quartic(0.0), 1e-13));  // held at the ends of the record
  CHECK_THAT(course.at(0, 9.0), WithinAbs(quartic(2.5), 1e-13));
}

TEST_CASE("first and last crossing", "[solve][closed-form]") {
  const Trajectory course = recorded(cubic, {0.0, 1.3, 2.2, 4.0});
  CHECK_THAT(course.first_crossing(0, 0.0), WithinAbs(1.0, 1e-12));
  CHECK_THAT(course.first_crossing(0, 0.0, 1.5), WithinAbs(2.0, 1e-12));
  CHECK_THAT(course.last_crossing(0, 0.0), WithinAbs(3.0, 1e-12));
  CHECK(course.last_crossing(0, 100.0) < 0.0);
  CHECK(course.first_crossing(0, 0.0, 3.5) < 0.0);
  CHECK_THAT(course.last_crossing(0, 0.0, 0.0, 2.5), WithinAbs(2.0, 1e-12));
}
