// Boost.Odeint's own steppers. Its rosenbrock4 is written for uBLAS, which is no C++20.
#include <algorithm>
#include <boost/numeric/odeint.hpp>
#include <boost/numeric/ublas/matrix.hpp>
#include <boost/numeric/ublas/vector.hpp>
#include <utility>

#include "plain_problem.hpp"

namespace airtally::bench {
namespace {

namespace odeint = boost::numeric::odeint;
using Vector = boost::numeric::ublas::vector<double>;
using Matrix = boost::numeric::ublas::matrix<double>;

template <class Stepper, class System, class State>
std::size_t follow(Stepper stepper, System system, State p, const PlainProblem& problem,
                   const std::vector<double>& times, std::vector<double>& tip) {
  std::vector<double> from_start{0.0};
  from_start.insert(from_start.end(), times.begin(), times.end());
  return odeint::integrate_times(stepper, system, p, from_start.begin(), from_start.end(), 1e-7,
                                 [&](const State& x, double t) {
                                   if (t > 0.0) tip.push_back(x[problem.tip]);
                                 });
}

}  // namespace

std::size_t plain_rosenbrock(const PlainProblem& problem, double relative, const std::vector<double>& times,
                             std::vector<double>& tip) {
  const auto rate = [&](const Vector& x, Vector& f, double) { problem.rate(&x.data()[0], &f.data()[0]); };
  const auto slopes = [&](const Vector& x, Matrix& j, const double&, Vector& by_time) {
    problem.slopes(&x.data()[0], &j.data()[0]);
    by_time.clear();
  };
  return follow(odeint::make_dense_output<odeint::rosenbrock4<double>>(1e4 * relative, relative),
                std::make_pair(rate, slopes), Vector(problem.size, problem.ambient), problem, times, tip);
}

std::size_t plain_explicit(const PlainProblem& problem, double relative, const std::vector<double>& times,
                           std::vector<double>& tip) {
  using State = std::vector<double>;
  const auto rate = [&](const State& x, State& f, double) { problem.rate(x.data(), f.data()); };
  return follow(odeint::make_dense_output(1e4 * relative, relative, odeint::runge_kutta_dopri5<State>()), rate,
                State(problem.size, problem.ambient), problem, times, tip);
}

}  // namespace airtally::bench
