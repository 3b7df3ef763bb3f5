// How the cost grows with the number of elements: steady and transient, on a tree, a chain and a mesh.
#include <benchmark/benchmark.h>

#include <memory>
#include <string>

#include "groups.hpp"
#include "memory.hpp"
#include "peers.hpp"
#include "shapes.hpp"
#include "solve/steady.hpp"

namespace airtally::bench {
namespace {

using Shape = line::Line (*)(std::size_t);

/// The whole of it: ordering, compiling, solving.
void steady(benchmark::State& state, Shape shape, std::size_t elements) {
  const Subject subject(shape(elements), solve::TipState::part);
  solve::SteadyReport report;
  std::size_t bytes = 0;
  for (auto _ : state) {
    const std::size_t before = allocated();
    solve::Steady steady(subject.network);
    solve::Pressures x;
    report = steady.solve(subject.network, x);
    bytes = allocated() - before;
    benchmark::DoNotOptimize(x.p.data());
  }
  state.counters["elements"] = static_cast<double>(elements);
  state.counters["newton_steps"] = report.iterations;
  state.counters["balance"] = report.worst_balance;
  state.counters["bytes_per_element"] = static_cast<double>(bytes) / static_cast<double>(elements);
}

Task task_for(const Subject& subject) {
  Task task;
  task.tip = subject.tip;
  task.relative = 1e-5;
  for (int i = 1; i <= 10; ++i) task.times.push_back(0.1 * i);
  return task;
}

void transient(benchmark::State& state, Shape shape, std::size_t elements) {
  const Subject subject(shape(elements), solve::TipState::part);
  const Task task = task_for(subject);
  Course course;
  for (auto _ : state) course = own(subject.network, task);
  state.counters["elements"] = static_cast<double>(elements);
  state.counters["steps"] = static_cast<double>(course.steps);
}

void transient_peer(benchmark::State& state, Shape shape, std::size_t elements) {
  const Subject subject(shape(elements), solve::TipState::part);
  Problem problem(subject.network);
  Cvode peer(problem, Linear::klu);
  Course course;
  for (auto _ : state) course = peer.follow(task_for(subject));
  state.counters["elements"] = static_cast<double>(elements);
  state.counters["steps"] = static_cast<double>(course.steps);
}

}  // namespace

void register_growth() {
  for (const auto& [word, shape] :
       {std::pair<std::string, Shape>{"tree", tree}, std::pair<std::string, Shape>{"chain", chain},
        std::pair<std::string, Shape>{"mesh", mesh}}) {
    for (const std::size_t n : {100, 1000, 10000, 100000}) {
      const std::string at = word + " of " + std::to_string(n);
      benchmark::RegisterBenchmark(("growth steady/" + at + "/own").c_str(), [shape = shape, n](benchmark::State& s) {
        steady(s, shape, n);
      })->Unit(benchmark::kMillisecond);
      if (n > 10000) continue;
      benchmark::RegisterBenchmark(("growth transient/" + at + "/own").c_str(), [shape = shape,
                                                                                 n](benchmark::State& s) {
        transient(s, shape, n);
      })->Unit(benchmark::kMillisecond);
      if (n == 1000)
        benchmark::RegisterBenchmark(("growth transient/" + at + "/CVODE KLU").c_str(), [shape = shape,
                                                                                         n](benchmark::State& s) {
          transient_peer(s, shape, n);
        })->Unit(benchmark::kMillisecond);
    }
  }
}

}  // namespace airtally::bench
