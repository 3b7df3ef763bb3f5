#pragma once

/// The groups of benchmarks. Names are paths: group/case/solver; table.cpp compares the solvers of one case.
namespace airtally::bench {

void register_laws();
void register_batch();
void register_steady();
void register_pull_downs();
void register_growth();
void register_questions();
void register_processes();

}  // namespace airtally::bench
