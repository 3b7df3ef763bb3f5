// What whole questions cost on the invented lines.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "groups.hpp"
#include "hunt/fit/least_squares.hpp"
#include "hunt/fit/modes.hpp"
#include "hunt/hunt.hpp"
#include "hunt/logs/look_up.hpp"
#include "hunt/next/next_test.hpp"
#include "hunt/samples/sample.hpp"
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
  const std::string path = "question/" + question + ", " + name + "/own";
  auto* benchmark = benchmark::RegisterBenchmark(path.c_str(), [name, run](benchmark::State& state) {
    const line::Line line = scenario(name);
    run(state, line);
  });
  benchmark->Unit(benchmark::kMillisecond);
  if (question.starts_with("bands") || question.starts_with("hunt")) benchmark->UseRealTime();
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

hunt::Readings readings_of(const line::Line& line) {
  return hunt::look_up(line, {read::read_readings(AIRTALLY_LINES "/readings/jewel-setter.toml")});
}

/// The peaks of what may be wrong, with Laplace's covariances.
void peaks(benchmark::State& state, const line::Line& line) {
  const hunt::Readings readings = readings_of(line);
  const hunt::Suspects all = hunt::suspects(line, readings.bench);
  for (auto _ : state) {
    hunt::Evidence evidence(all, readings.list, readings.bench);
    benchmark::DoNotOptimize(hunt::find_modes(all, evidence));
  }
}

void next_tests(benchmark::State& state, const line::Line& line) {
  const hunt::Readings readings = readings_of(line);
  const hunt::Suspects all = hunt::suspects(line, readings.bench);
  const auto tips = solve::usual_tips(line);
  hunt::Evidence evidence(all, readings.list, readings.bench);
  hunt::Samples samples =
      hunt::sample(all, readings.list, readings.bench, hunt::find_modes(all, evidence), hunt::quick_options(1));
  const hunt::Costs costs = hunt::costs_of(all, samples.z, tips);
  const hunt::Beliefs beliefs{std::move(samples.z), std::move(samples.weight), costs};
  for (auto _ : state)
    benchmark::DoNotOptimize(
        hunt::next_tests(all, readings.bench, beliefs, hunt::possible_tests(all, readings.bench, tips), 8));
}

/// When the tip has settled, to 2e-4 of that time: the tube in one piece, as a ranking asks it of each change.
void settle(benchmark::State& state, const line::Line& line) {
  const auto tips = solve::usual_tips(line);
  study::RiseOptions closely;
  closely.segments = 1;
  closely.relative = 1e-10;
  closely.absolute = 1e-6;
  const double settled = study::rise(line, tips, closely).settle;
  double found = 0.0;
  for (auto _ : state) found = study::timing(line, tips, 0, 0.0, 1).settle;
  state.counters["off"] = std::fabs(found / settled - 1.0);
}

/// One fit of ten elements' leaks to eight readings, from a line that is well: caps on eight elements, at the first
/// gauge that each leaves on the line; one element leaks six times what is common.
void fit(benchmark::State& state, const line::Line& line) {
  hunt::Suspects ten = hunt::suspects(line, {});
  std::size_t leaks = 0;  // and what the gauges may be out by, which a reading needs
  std::erase_if(ten.unknowns, [&](const hunt::Unknown& unknown) {
    return unknown.what == hunt::What::leak ? ++leaks > 10 : unknown.what != hunt::What::offset;
  });
  std::vector<double> truth(ten.unknowns.size(), 0.0);
  truth[6] = ten.unknowns[6].prior.z_of(6.0 * ten.unknowns[6].prior.at(0.0));
  const std::vector<double> values = ten.values(truth);
  std::vector<hunt::Reading> readings;
  for (std::size_t i = 0; i < line.elements.size() && readings.size() < 8; ++i) {
    if (line.elements[i].kind == line::Kind::plug || line::is_source(line.elements[i].kind)) continue;
    const hunt::Setting setting{i, 0.0, solve::usual_tips(line)};
    hunt::Rig rig(ten, line::topology(ten.line), setting);
    for (const std::size_t at : hunt::gauges(line)) {
      if (!rig.has(at)) continue;
      rig.solve(values);
      readings.push_back(
          {setting, hunt::Instrument::vacuum, at, rig.read(hunt::Instrument::vacuum, at, values), 0.0, {}});
      break;
    }
  }
  const std::size_t m = readings.size(), n = ten.unknowns.size();
  hunt::Evidence evidence(ten, readings, {});
  const auto misfits = [&](std::span<const double> z, std::span<double> r, std::span<double> slopes) {
    if (!evidence.evaluate(z, r.first(m), slopes.first(m * n))) return false;
    std::fill(slopes.begin() + static_cast<std::ptrdiff_t>(m * n), slopes.end(), 0.0);
    for (std::size_t k = 0; k < n; ++k) {
      r[m + k] = z[k];
      slopes[(m + k) * n + k] = 1.0;
    }
    return true;
  };
  const std::vector<double> well(n, 0.0);
  hunt::Fit found;
  for (auto _ : state) found = hunt::least_squares(m + n, well, misfits, 120, 1e-7);
  if (!found.converged) state.SkipWithError("no fit");
  state.counters["evaluations"] = found.evaluations;
  state.counters["readings"] = static_cast<double>(m);
}

void hunt(benchmark::State& state, const line::Line& line, bool quick) {
  const hunt::Readings readings = readings_of(line);
  hunt::HuntOptions options;
  options.quick = quick;
  for (auto _ : state) benchmark::DoNotOptimize(hunt::hunt(line, readings, options));
}

/// Before the first reading: which test to begin with.
void first_test(benchmark::State& state, const line::Line& line) {
  for (auto _ : state) benchmark::DoNotOptimize(hunt::hunt(line, {}));
}

/// Samples of many unknowns in a bent posterior: the line as its file has it, read whole in all states of the tips and
/// with a cap on two elements, at every gauge.
void many_unknowns(benchmark::State& state, const line::Line& line) {
  const hunt::Suspects all = hunt::suspects(line, {});
  const std::vector<double> values = all.values(std::vector<double>(all.unknowns.size(), 0.0));
  std::vector<hunt::Setting> settings;
  for (const auto tip : {solve::TipState::blocked, solve::TipState::part, solve::TipState::open})
    settings.push_back({{}, 0.0, solve::all_tips(line, tip)});
  for (const char* cap : {"gauge tee", "filter"})
    settings.push_back({line::find(line, cap), 0.0, solve::usual_tips(line)});
  std::vector<hunt::Reading> readings;
  for (const hunt::Setting& setting : settings) {
    hunt::Rig rig(all, line::topology(all.line), setting);
    rig.solve(values);
    for (const std::size_t at : hunt::gauges(line))
      if (rig.has(at))
        readings.push_back(
            {setting, hunt::Instrument::vacuum, at, rig.read(hunt::Instrument::vacuum, at, values), 0.0, {}});
  }
  hunt::Evidence evidence(all, readings, {});
  const std::vector<hunt::Mode> modes = hunt::find_modes(all, evidence);
  double effective = 0.0;
  for (auto _ : state) effective = hunt::sample(all, readings, {}, modes, {}).effective;
  state.counters["effective"] = effective;
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
  add("settle time", "jewel-setter", settle);
  add("steady", "two-spindle-sorter", steady);
  add("fit of 10 leaks to 8 readings", "two-spindle-sorter", fit);
  add("hunt's peaks", "jewel-setter", peaks);
  add("hunt's list of next tests", "jewel-setter", next_tests);
  for (const char* name : {"jewel-setter", "seed-tray"}) add("hunt's first test", name, first_test);
  add("hunt's samples", "seed-tray", many_unknowns);
  add("hunt, quick", "jewel-setter", [](benchmark::State& s, const line::Line& line) { hunt(s, line, true); });
  add("hunt with sampling", "jewel-setter", [](benchmark::State& s, const line::Line& line) { hunt(s, line, false); });
}

}  // namespace airtally::bench
