// Pull-downs from ambient and a pick with its sudden changes, isothermal, at six tolerances: error against time for us
// and for each peer. All follow the same network with the same flows and slopes, and start anew at every change; the
// error is the greatest at the tip over forty times.
#include <benchmark/benchmark.h>

#include <cmath>
#include <functional>
#include <memory>
#include <string>

#include "groups.hpp"
#include "peers.hpp"
#include "solve/steady.hpp"
#include "study/rise.hpp"

namespace airtally::bench {
namespace {

using solve::TipState;

struct Case {
  Subject subject;
  Task task;
  Problem problem;
  std::vector<double> reference;
  Cvode dense, klu, tree;

  Case(Subject given, Task asked)
      : subject(std::move(given)),
        task(std::move(asked)),
        problem(subject.network),
        dense(problem, Linear::dense),
        klu(problem, Linear::klu),
        tree(problem, Linear::tree) {
    Task closely = task;
    closely.relative = 1e-11;
    reference = own(subject.network, closely).tip;
  }

  double error(const Course& course) const {
    double worst = 0.0;
    for (std::size_t i = 0; i < reference.size(); ++i) worst = std::max(worst, std::fabs(course.tip[i] - reference[i]));
    return worst;
  }
};

/// From ambient to twice the settle time.
std::shared_ptr<Case> pull_down(const std::string& name, TipState state) {
  Subject subject(scenario(name), state);
  study::RiseOptions options;
  options.segments = 1;
  options.thermal = solve::Thermal::isothermal;
  const double settle = study::rise(subject.line, subject.network.tips, options).settle;
  Task task;
  for (int i = 1; i <= 40; ++i) task.times.push_back(2.0 * settle * i / 40.0);
  task.tip = subject.tip;
  return std::make_shared<Case>(std::move(subject), std::move(task));
}

/// A pick with the part on from the start: the line behind the valve at rest, the valve opens, holds, and vents.
std::shared_ptr<Case> pick(const std::string& name) {
  constexpr double opens = 60e-3, vents = 600e-3, ramp = 6e-3;  // [s]
  Subject subject(scenario(name), TipState::part);
  solve::Network& network = subject.network;
  int valve = -1, vent = -1;
  for (std::size_t k = 0; k < network.paths.size(); ++k) {
    const solve::Path& path = network.paths[k];
    if (subject.line.elements[path.element].kind != line::Kind::valve || path.role == solve::Role::leak) continue;
    (path.role == solve::Role::vent ? vent : valve) = static_cast<int>(k);
  }
  for (const int k : {valve, vent}) network.paths.at(static_cast<std::size_t>(k)).mode = solve::Mode::closed;
  solve::Pressures rest;
  solve::Steady(network).solve(network, rest);
  for (const int k : {valve, vent}) {
    network.paths[static_cast<std::size_t>(k)].mode = solve::Mode::active;
    network.paths[static_cast<std::size_t>(k)].scale = 0.0;
  }
  Task task;
  for (int i = 1; i <= 40; ++i) task.times.push_back(0.75 * i / 40.0);
  task.tip = subject.tip;
  task.start = rest.p;
  task.ramps = {{valve, opens, opens + ramp, 0.0, 1.0},
                {valve, vents, vents + ramp, 1.0, 0.0},
                {vent, vents, vents + ramp, 0.0, 1.0}};
  task.events = {opens, opens + ramp, vents, vents + ramp};
  return std::make_shared<Case>(std::move(subject), std::move(task));
}

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
  for (const std::string word : {"open", "part", "blocked", "pick"}) {
    const auto c = word == "pick" ? pick("jewel-setter")
                                  : pull_down("jewel-setter", word == "open"   ? TipState::open
                                                              : word == "part" ? TipState::part
                                                                               : TipState::blocked);
    const auto add = [&](const std::string& solver, const Follow& follow, bool once = false) {
      for (const int digits : {3, 4, 5, 6, 7, 8}) {
        const std::string name = "pull-down/jewel-setter " + word + "/" + solver + "/1e-" + std::to_string(digits);
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
    if (word == "pick") continue;  // Odeint's would be given no slope with time
    add("Odeint rosenbrock4, uBLAS", [](Case& k, const Task& t) { return odeint_rosenbrock(k.problem, t); });
    add(
        "Odeint dopri5", [](Case& k, const Task& t) { return odeint_explicit(k.problem, t); }, true);
  }
}

}  // namespace airtally::bench
