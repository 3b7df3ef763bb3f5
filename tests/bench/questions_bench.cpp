// What whole questions cost on the invented lines.
#include <benchmark/benchmark.h>

#include <string>

#include "groups.hpp"
#include "hunt/hunt.hpp"
#include "hunt/look_up.hpp"
#include "problem.hpp"
#include "read/readings_file.hpp"
#include "solve/answer.hpp"
#include "study/bands.hpp"
#include "study/cycle.hpp"
#include "study/rank.hpp"
#include "study/rise.hpp"

namespace airtally::bench {
namespace {

template <class Run>
void add(const std::string& question, const std::string& name, Run run) {
  benchmark::RegisterBenchmark(("question/" + question + ", " + name + "/own").c_str(), [name,
                                                                                         run](benchmark::State& state) {
    const line::Line line = scenario(name);
    run(state, line);
  })->Unit(benchmark::kMillisecond);
}

void steady(benchmark::State& state, const line::Line& line) {
  for (auto _ : state) benchmark::DoNotOptimize(solve::steady(line, solve::usual_tips(line)));
}

void rise(benchmark::State& state, const line::Line& line) {
  for (auto _ : state) benchmark::DoNotOptimize(study::rise(line, solve::usual_tips(line)));
}

void rank(benchmark::State& state, const line::Line& line) {
  std::size_t solves = 0;
  for (auto _ : state) solves = study::rank(line, solve::usual_tips(line)).solves;
  state.counters["solves"] = static_cast<double>(solves);
}

void cycle(benchmark::State& state, const line::Line& line) {
  study::CycleOptions options;
  options.limits = false;
  for (auto _ : state) benchmark::DoNotOptimize(study::cycle(line, options));
}

/// 10,000 lines drawn from the file's tolerances, each solved at rest.
void bands(benchmark::State& state, const line::Line& line, unsigned threads) {
  const auto tips = solve::usual_tips(line);
  study::SampleOptions options;
  options.samples = 10000;
  options.threads = threads;
  options.influence = false;
  for (auto _ : state)
    benchmark::DoNotOptimize(study::bands(
        line, 1,
        [&](const line::Line& drawn, std::span<double> out) {
          out[0] = solve::steady(drawn, tips).tips.front().tip_vacuum();
        },
        options));
}

void hunt(benchmark::State& state, const line::Line& line, bool quick) {
  const line::Notes notes = read::read_readings(AIRTALLY_LINES "/readings/jewel-setter.toml");
  const hunt::Readings readings = hunt::look_up(line, {notes});
  hunt::HuntOptions options;
  options.quick = quick;
  for (auto _ : state) benchmark::DoNotOptimize(hunt::hunt(line, readings, options));
}

}  // namespace

void register_questions() {
  for (const char* name : {"jewel-setter", "seed-tray"}) {
    add("steady", name, steady);
    add("rise", name, rise);
    add("rank", name, rank);
  }
  add("cycle", "two-spindle-sorter", cycle);
  add("bands of 10,000 on 1 thread", "jewel-setter",
      [](benchmark::State& s, const line::Line& line) { bands(s, line, 1); });
  add("bands of 10,000 on 2 threads", "jewel-setter",
      [](benchmark::State& s, const line::Line& line) { bands(s, line, 2); });
  add("hunt, fit and next tests", "jewel-setter",
      [](benchmark::State& s, const line::Line& line) { hunt(s, line, true); });
  add("hunt with sampling", "jewel-setter", [](benchmark::State& s, const line::Line& line) { hunt(s, line, false); });
}

}  // namespace airtally::bench
