// What it would bring to evaluate a law for many samples at once: friction with its slope, which is most of a trial of
// a duct, one by one as it is, and as Eigen arrays in the same form. Churchill's formula with roughness, all turbulent.
#include <benchmark/benchmark.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "groups.hpp"
#include "laws/friction.hpp"

namespace airtally::bench {
namespace {

constexpr int together = 64;
constexpr double roughness = 1e-3;
using Batch = Eigen::Array<double, together, 1>;

Batch reynolds_numbers() { return Batch::LinSpaced(together, 1200.0, 7400.0); }

void friction_of(const Batch& re, Batch& g, Batch& dg_dre) {
  const Batch per_re = re.inverse();
  const Batch smooth = (0.9 * (7.0 * per_re).log()).exp();
  const Batch inside = smooth + 0.27 * roughness;
  const Batch logarithm = -inside.log();
  const Batch a = (2.457 * logarithm).square().square().square().square();
  const Batch b = (37530.0 * per_re).square().square().square().square();
  const Batch sum = a + b;
  const Batch fourth = (re * 0.125).square().square();
  const Batch q = fourth * fourth.square() / (sum * sum.sqrt());
  g = 64.0 * ((1.0 + q).log() * (1.0 / 12.0)).exp();
  const Batch da = a / logarithm * (16.0 * 0.9) * smooth / inside;
  dg_dre = g * q / (1.0 + q) * (12.0 - 1.5 * (da - 16.0 * b) / sum) * per_re * (1.0 / 12.0);
}

void one_by_one(benchmark::State& state) {
  const Batch re = reynolds_numbers();
  int k = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(laws::churchill(re[k], roughness));
    k = (k + 1) % together;
  }
}

void at_once(benchmark::State& state) {
  const Batch re = reynolds_numbers();
  Batch g, dg_dre;
  double off = 0.0;
  friction_of(re, g, dg_dre);
  for (int k = 0; k < together; ++k) off = std::max(off, std::fabs(g[k] / laws::churchill(re[k], roughness).g - 1.0));
  while (state.KeepRunningBatch(together)) {
    friction_of(re, g, dg_dre);
    benchmark::DoNotOptimize(g.data());
    benchmark::DoNotOptimize(dg_dre.data());
  }
  state.counters["off"] = off;
}

}  // namespace

void register_batch() {
  benchmark::RegisterBenchmark("law/friction/own", one_by_one);
  benchmark::RegisterBenchmark("law/friction/64 at once, Eigen", at_once);
}

}  // namespace airtally::bench
