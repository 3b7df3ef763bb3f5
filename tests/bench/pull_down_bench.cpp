// Pull-downs from ambient, isothermal, at five tolerances: error against time for us and for each peer. All follow the
// same network with the same flows and slopes; the error is the greatest at the tip over forty times.
#include <benchmark/benchmark.h>

#include <cmath>
#include <functional>
#include <memory>
#include <string>

#include "groups.hpp"
#include "peers.hpp"
#include "study/rise.hpp"

namespace airtally::bench {
namespace {

using solve::TipState;

struct Case {
  Subject subject;
  Problem problem;
  Task task;
  std::vector<double> reference;
  Cvode dense, klu, tree;

  Case(const std::string& name, TipState state)
      : subject(scenario(name), state),
        problem(subject.network),
        dense(problem, Linear::dense),
        klu(problem, Linear::klu),
        tree(problem, Linear::tree) {
    study::RiseOptions options;
    options.segments = 1;
    options.thermal = solve::Thermal::isothermal;
    const double settle = study::rise(subject.line, subject.network.tips, options).settle;
    for (int i = 1; i <= 40; ++i) task.times.push_back(2.0 * settle * i / 40.0);
    task.tip = subject.tip;
    task.relative = 1e-11;
    reference = own(subject.network, task).tip;
  }

  double error(const Course& course) const {
    double worst = 0.0;
    for (std::size_t i = 0; i < reference.size(); ++i) worst = std::max(worst, std::fabs(course.tip[i] - reference[i]));
    return worst;
  }
};

using Follow = std::function<Course(Case&, const Task&)>;

void run(benchmark::State& state, Case& c, double relative, const Follow& follow) {
  Task task = c.task;
  task.relative = relative;
  Course course;
  for (auto _ : state) course = follow(c, task);
  state.counters["error_pa"] = c.error(course);
  state.counters["steps"] = static_cast<double>(course.steps);
  state.counters["evaluations"] = static_cast<double>(course.evaluations);
}

}  // namespace

void register_pull_downs() {
  for (const auto& [word, tips] : {std::pair{"open", TipState::open}, std::pair{"part", TipState::part},
                                   std::pair{"blocked", TipState::blocked}}) {
    const auto c = std::make_shared<Case>("jewel-setter", tips);
    const auto add = [&](const std::string& solver, const Follow& follow, bool once = false) {
      for (const int digits : {3, 4, 5, 6, 7}) {
        const std::string name =
            std::string("pull-down/jewel-setter ") + word + "/" + solver + "/1e-" + std::to_string(digits);
        auto* b = benchmark::RegisterBenchmark(
            name.c_str(), [c, follow, digits](benchmark::State& s) { run(s, *c, std::pow(10.0, -digits), follow); });
        b->Unit(benchmark::kMicrosecond);
        if (once) b->Iterations(1);
        if (once) break;  // stability holds its steps down, not the tolerance
      }
    };
    add("own", [](Case& k, const Task& t) { return own(k.subject.network, t); });
    add("CVODE dense", [](Case& k, const Task& t) { return k.dense.follow(t); });
    add("CVODE KLU", [](Case& k, const Task& t) { return k.klu.follow(t); });
    add("CVODE with our elimination", [](Case& k, const Task& t) { return k.tree.follow(t); });
    add("Odeint rosenbrock4, uBLAS", [](Case& k, const Task& t) { return odeint_rosenbrock(k.problem, t); });
    add(
        "Odeint dopri5", [](Case& k, const Task& t) { return odeint_explicit(k.problem, t); }, true);
  }
}

}  // namespace airtally::bench
