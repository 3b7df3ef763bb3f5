// usage: airtally_convergence [LINES [FIRST SEED]]
// Solves that many random lines (tests/support/random_line.hpp: 1 to 60 elements and what ends them, bores of 0.1 to 20
// mm, leaks over eight decades, weak and strong pumps, blocked, choked, shut-off and looped) and says how it went:
// steps at the median, the 99th percentile and the worst, and the ten lines that took the most. A line either balances
// to 1e-9 of the flow through each place, or is refused with a reason, or counts as a failure: the program then ends
// with 1, as it does when one line in a hundred takes more than 20 evaluations.
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "errors.hpp"
#include "line/variant.hpp"
#include "solve/steady.hpp"
#include "support/random_line.hpp"

using namespace airtally;

namespace {

struct Run {
  std::uint64_t seed = 0;
  std::size_t elements = 0;
  int unknowns = 0, iterations = 0, evaluations = 0;
  bool fallback = false;
  double balance = 0.0;
  std::string worst;
};

Run solved(std::uint64_t seed, const line::Line& line) {
  const auto tips = support::random_states(seed, line::all_of(line, line::Kind::nozzle).size());
  const line::Topology topology = line::topology(line);
  const solve::Network network(line, topology, tips);
  solve::Steady solver(network);
  solve::Pressures x;
  const solve::SteadyReport report = solver.solve(network, x);
  return {seed,
          line.elements.size(),
          report.unknowns,
          report.iterations,
          report.evaluations,
          report.fallback,
          report.worst_balance,
          line.elements[report.worst_element].name};
}

}  // namespace

int main(int argc, char** argv) {
  const std::uint64_t count = argc > 1 ? std::strtoull(argv[1], nullptr, 10) : 100000;
  const std::uint64_t first = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 1;
  std::vector<Run> runs;
  runs.reserve(count);
  std::size_t refused = 0, failed = 0, fallbacks = 0, above = 0;
  for (std::uint64_t seed = first; seed < first + count; ++seed) {
    const line::Line line = support::random_line(seed);
    try {
      runs.push_back(solved(seed, line));
      fallbacks += runs.back().fallback ? 1 : 0;
      above += runs.back().balance > solve::Steady::tolerance ? 1 : 0;
    } catch (const BadInput& refusal) {
      ++refused;
      std::printf("seed %llu is refused: %s\n", static_cast<unsigned long long>(seed), refusal.what());
    } catch (const std::exception& failure) {
      ++failed;
      std::printf("seed %llu FAILED: %s\n", static_cast<unsigned long long>(seed), failure.what());
    }
  }
  if (runs.empty()) {
    std::printf("no line was solved\n");
    return 1;
  }
  // Evaluations of all flows with their slopes: what a solve costs, whatever the machine.
  std::sort(runs.begin(), runs.end(), [](const Run& a, const Run& b) { return a.evaluations > b.evaluations; });
  const auto from_top = [&](std::size_t part, std::size_t of) {
    return runs[(runs.size() - 1) * part / of].evaluations;
  };
  std::printf("%zu lines solved, %zu refused, %zu failed, %zu needed the continuation, %zu above 1e-9\n", runs.size(),
              refused, failed, fallbacks, above);
  std::printf("evaluations of all flows: p50 %d, p99 %d, most %d\n", from_top(1, 2), from_top(1, 100), from_top(0, 1));
  std::printf("the slowest ten:\n%10s %9s %9s %7s %7s %13s %9s  %s\n", "seed", "elements", "unknowns", "steps", "evals",
              "continuation", "balance", "worst at");
  for (std::size_t k = 0; k < std::min<std::size_t>(10, runs.size()); ++k) {
    const Run& run = runs[k];
    std::printf("%10llu %9zu %9d %7d %7d %13s %9.1e  %s\n", static_cast<unsigned long long>(run.seed), run.elements,
                run.unknowns, run.iterations, run.evaluations, run.fallback ? "yes" : "no", run.balance,
                run.worst.c_str());
  }
  return failed + above > 0 || from_top(1, 100) > 20 ? 1 : 0;
}
