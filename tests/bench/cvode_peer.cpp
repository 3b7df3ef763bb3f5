#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>

#include <algorithm>
#include <stdexcept>

#include "sundials_linear.hpp"

namespace airtally::bench {

struct Cvode::Parts {
  explicit Parts(Problem& given) : problem(given) {}

  Problem& problem;
  SUNContext context = nullptr;
  N_Vector p = nullptr;
  std::unique_ptr<LinearParts> linear;
  void* memory = nullptr;

  static int rate(double t, N_Vector p, N_Vector f, void* data) {
    Problem& problem = static_cast<Parts*>(data)->problem;
    problem.drive(t);
    if (!problem.at({N_VGetArrayPointer(p), problem.size()})) return 1;
    double* out = N_VGetArrayPointer(f);
    for (std::size_t i = 0; i < problem.size(); ++i) out[i] = problem.net()[i] / problem.mass[i];
    return 0;
  }
  // CVODE asks for the slopes where it has just asked for the rates.
  static int slopes(double, N_Vector, N_Vector, SUNMatrix j, void* data, N_Vector, N_Vector, N_Vector) {
    static_cast<Parts*>(data)->linear->fill(j, true);
    return 0;
  }
  ~Parts() {
    CVodeFree(&memory);
    linear.reset();
    N_VDestroy(p);
    SUNContext_Free(&context);
  }
};

Cvode::Cvode(Problem& problem, Linear linear) : parts_(new Parts(problem)) {
  Parts& c = *parts_;
  SUNContext_Create(nullptr, &c.context);
  c.p = N_VNew_Serial(static_cast<sunindextype>(problem.size()), c.context);
  N_VConst(problem.network().ambient, c.p);
  problem.at({N_VGetArrayPointer(c.p), problem.size()});
  c.linear = std::make_unique<LinearParts>(problem, linear, c.p, c.context);
  c.memory = CVodeCreate(CV_BDF, c.context);
  if (CVodeInit(c.memory, Parts::rate, 0.0, c.p) != 0) throw std::runtime_error("CVodeInit");
  CVodeSetUserData(c.memory, &c);
  CVodeSStolerances(c.memory, 1e-6, 1e-2);
  CVodeSetLinearSolver(c.memory, c.linear->solver, c.linear->matrix);
  CVodeSetJacFn(c.memory, Parts::slopes);
  CVodeSetMaxNumSteps(c.memory, 10000000);
}

Cvode::~Cvode() = default;

Course Cvode::follow(const Task& task) {
  Parts& c = *parts_;
  N_VConst(c.problem.network().ambient, c.p);
  if (!task.start.empty()) std::copy(task.start.begin(), task.start.end(), N_VGetArrayPointer(c.p));
  c.problem.ramps = task.ramps;
  c.problem.needs(task.relative);
  CVodeSStolerances(c.memory, task.relative, 1e4 * task.relative);
  Course course;
  const std::size_t before = c.problem.evaluations();
  std::vector<double> ends = task.events;
  ends.push_back(task.times.back());
  double begin = 0.0;
  for (const double end : ends) {
    CVodeReInit(c.memory, begin, c.p);
    CVodeSetStopTime(c.memory, end);
    const auto go_to = [&](double time) {
      double reached = 0.0;
      if (CVode(c.memory, time, c.p, &reached, CV_NORMAL) < 0) throw std::runtime_error("CVode");
    };
    while (course.tip.size() < task.times.size() && task.times[course.tip.size()] <= end) {
      go_to(task.times[course.tip.size()]);
      course.tip.push_back(N_VGetArrayPointer(c.p)[task.tip]);
    }
    if (task.times[std::max<std::size_t>(course.tip.size(), 1) - 1] < end) go_to(end);
    long steps = 0;
    CVodeGetNumSteps(c.memory, &steps);
    course.steps += static_cast<std::size_t>(steps);
    begin = end;
  }
  course.evaluations = c.problem.evaluations() - before;
  return course;
}

}  // namespace airtally::bench
