#include <algorithm>

#include "peers.hpp"
#include "plain_problem.hpp"

namespace airtally::bench {
namespace {

PlainProblem plain(Problem& problem, const Task& task) {
  const std::size_t n = problem.size();
  // Pressures are held positive where a trial oversteps.
  auto evaluate = [&problem, held = std::vector<double>(n)](const double* p) mutable {
    for (std::size_t i = 0; i < held.size(); ++i) held[i] = std::clamp(p[i], 10.0, 9e6);
    problem.at(held);
  };
  PlainProblem plain;
  plain.size = n;
  plain.ambient = problem.network().ambient;
  plain.tip = static_cast<std::size_t>(task.tip);
  plain.rate = [&problem, evaluate, n](const double* p, double* f) mutable {
    evaluate(p);
    for (std::size_t i = 0; i < n; ++i) f[i] = problem.net()[i] / problem.mass[i];
  };
  plain.slopes = [&problem, evaluate, n](const double* p, double* j) mutable {
    evaluate(p);
    std::fill(j, j + n * n, 0.0);
    problem.each_slope([&](int row, int column, double value) {
      j[static_cast<std::size_t>(row) * n + static_cast<std::size_t>(column)] += value / problem.mass[row];
    });
  };
  return plain;
}

using Solver = std::size_t (*)(const PlainProblem&, double, const std::vector<double>&, std::vector<double>&);

Course follow(Problem& problem, const Task& task, Solver solver) {
  const std::size_t before = problem.evaluations();
  problem.needs(task.relative);
  Course course;
  course.steps = solver(plain(problem, task), task.relative, task.times, course.tip);
  course.evaluations = problem.evaluations() - before;
  return course;
}

}  // namespace

Course odeint_rosenbrock(Problem& problem, const Task& task) { return follow(problem, task, plain_rosenbrock); }
Course odeint_explicit(Problem& problem, const Task& task) { return follow(problem, task, plain_explicit); }

}  // namespace airtally::bench
