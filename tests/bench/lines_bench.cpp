// What the questions cost on the invented lines: compare rows of one run, not runs.
#include <benchmark/benchmark.h>

#include <string>

#include "read/line_file.hpp"
#include "solve/answer.hpp"
#include "study/cycle.hpp"
#include "study/rank.hpp"
#include "study/rise.hpp"

using namespace airtally;

namespace {

line::Line scenario(const char* name) { return read::read_line(std::string(AIRTALLY_LINES "/") + name + ".toml", {}); }

void steady(benchmark::State& state, const char* name) {
  const line::Line line = scenario(name);
  const auto tips = solve::usual_tips(line);
  for (auto _ : state) benchmark::DoNotOptimize(solve::steady(line, tips));
}

void rise(benchmark::State& state, const char* name) {
  const line::Line line = scenario(name);
  const auto tips = solve::usual_tips(line);
  for (auto _ : state) benchmark::DoNotOptimize(study::rise(line, tips));
}

void rank(benchmark::State& state, const char* name) {
  const line::Line line = scenario(name);
  const auto tips = solve::usual_tips(line);
  for (auto _ : state) benchmark::DoNotOptimize(study::rank(line, tips));
}

void cycle(benchmark::State& state, const char* name) {
  const line::Line line = scenario(name);
  study::CycleOptions options;
  options.limits = false;
  for (auto _ : state) benchmark::DoNotOptimize(study::cycle(line, options));
}

}  // namespace

BENCHMARK_CAPTURE(steady, jewel_setter, "jewel-setter");
BENCHMARK_CAPTURE(steady, seed_tray, "seed-tray");
BENCHMARK_CAPTURE(rise, jewel_setter, "jewel-setter")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(rank, jewel_setter, "jewel-setter")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(cycle, two_spindle_sorter, "two-spindle-sorter")->Unit(benchmark::kMillisecond);
