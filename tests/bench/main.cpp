#include <benchmark/benchmark.h>

#include "groups.hpp"

int main(int argc, char** argv) {
  using namespace airtally::bench;
  register_laws();
  register_batch();
  register_steady();
  register_pull_downs();
  register_growth();
  register_questions();
  register_processes();
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
}
