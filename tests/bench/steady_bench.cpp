// One evaluation of all flows with slopes ("ev"), and the steady solve: cold, warm, and KINSOL's on the same problem.
#include <benchmark/benchmark.h>

#include <memory>
#include <string>

#include "groups.hpp"
#include "peers.hpp"
#include "solve/steady.hpp"

namespace airtally::bench {
namespace {

using solve::TipState;

struct Case {
  Subject subject;
  Problem problem;
  solve::Steady steady;
  solve::Pressures rest;
  std::vector<double> through;

  Case(const std::string& name, TipState state)
      : subject(scenario(name), state), problem(subject.network), steady(subject.network) {
    steady.solve(subject.network, rest);
    through = steady.evaluation().through;
  }
};

void evaluation(benchmark::State& state, Case& c) {
  std::vector<double> p = c.rest.p;
  // Moved a little each time, as in a solve: neither the same point again nor one far off.
  double shift = 1.0;
  for (auto _ : state) {
    shift = shift > 1.0 ? 1.0 : 1.001;
    for (std::size_t i = 0; i < p.size(); ++i) p[i] = c.rest.p[i] * shift;
    c.problem.at(p);
    benchmark::DoNotOptimize(c.problem.net().data());
  }
  std::size_t flowing = 0;
  for (const solve::Path& path : c.subject.network.paths) flowing += path.mode == solve::Mode::active ? 1 : 0;
  flowing += c.subject.network.sources.size();
  state.counters["flows"] = static_cast<double>(flowing);
}

void elimination(benchmark::State& state, Case& c) {
  c.problem.at(c.rest.p);
  std::vector<double> b(c.problem.size());
  for (auto _ : state) {
    c.problem.couple(c.problem.elimination());
    c.problem.elimination().factor();
    std::fill(b.begin(), b.end(), 1.0);
    c.problem.elimination().solve(b);
    benchmark::DoNotOptimize(b.data());
  }
}

/// `enough`: the imbalance that it may stop at, as Steady has it.
void cold(benchmark::State& state, Case& c, double enough) {
  solve::SteadyReport report;
  solve::Steady steady = c.steady;
  steady.enough = enough;
  for (auto _ : state) {
    solve::Pressures x;
    report = steady.solve(c.subject.network, x);
    benchmark::DoNotOptimize(x.p.data());
  }
  state.counters["newton_steps"] = report.iterations;
  state.counters["evaluations"] = report.evaluations;
}

/// From the answer of a line that differs a little: its part's gap 5 % wider, say.
void warm(benchmark::State& state, Case& c, double enough) {
  solve::Network network = c.subject.network;
  solve::Steady steady = c.steady;
  steady.enough = enough;
  solve::SteadyReport report;
  solve::Pressures x = c.rest;
  double scale = 1.0;
  for (auto _ : state) {
    scale = scale > 1.0 ? 1.0 : 1.05;
    for (solve::Path& path : network.paths)
      if (path.role == solve::Role::leak) path.scale = scale;
    report = steady.resolve(network, x);
    benchmark::DoNotOptimize(x.p.data());
  }
  state.counters["newton_steps"] = report.iterations;
  state.counters["evaluations"] = report.evaluations;
}

void kinsol(benchmark::State& state, Case& c, Linear linear) {
  Kinsol peer(c.problem, linear, c.through);
  int iterations = 0;
  for (auto _ : state) {
    iterations = peer.solve();
    if (iterations < 0) {
      state.SkipWithError("gave up");
      return;
    }
  }
  double off = 0.0;
  for (std::size_t i = 0; i < c.rest.p.size(); ++i) off = std::max(off, std::abs(peer.p()[i] - c.rest.p[i]));
  state.counters["newton_steps"] = iterations;
  state.counters["off_pa"] = off;
}

}  // namespace

void register_steady() {
  for (const auto& [word, state] : {std::pair{"open", TipState::open}, std::pair{"part", TipState::part},
                                    std::pair{"blocked", TipState::blocked}}) {
    const auto c = std::make_shared<Case>("jewel-setter", state);
    const std::string at = std::string("/jewel-setter ") + word + "/";
    const auto add = [&](const std::string& name, auto run) {
      benchmark::RegisterBenchmark(name.c_str(), [c, run](benchmark::State& s) { run(s, *c); });
    };
    add("evaluation" + at + "own", evaluation);
    add("elimination" + at + "own", elimination);
    // By itself it goes on to 1e-12; the peers stop at 1e-9.
    add("steady cold" + at + "own", [](benchmark::State& s, Case& k) { cold(s, k, k.steady.enough); });
    add("steady cold" + at + "own, to 1e-9",
        [](benchmark::State& s, Case& k) { cold(s, k, solve::Steady::tolerance); });
    add("steady warm" + at + "own", [](benchmark::State& s, Case& k) { warm(s, k, k.steady.enough); });
    add("steady warm" + at + "own, to 1e-9",
        [](benchmark::State& s, Case& k) { warm(s, k, solve::Steady::tolerance); });
    add("steady cold" + at + "KINSOL dense", [](benchmark::State& s, Case& k) { kinsol(s, k, Linear::dense); });
    add("steady cold" + at + "KINSOL KLU", [](benchmark::State& s, Case& k) { kinsol(s, k, Linear::klu); });
  }
}

}  // namespace airtally::bench
