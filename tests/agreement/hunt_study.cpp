// The proof of the hunt at its full size: simulated hunts whose readings KINSOL computes. A program of its own, as it
// takes minutes; tests/agreement/hunt_proof_test.cpp runs a part of it.
//
//   airtally_hunt_study calibration LINE CASES [SEED [FIRST]]   truths drawn from the prior: coverage, rank histograms
//   airtally_hunt_study planted CASES [SEED [FIRST]]            leaks and blockages everywhere: is the culprit first?
//   airtally_hunt_study capped CASES [SEED [FIRST]]             the same with a gauge that no cap takes off the line
//   airtally_hunt_study advice CASES [SEED [FIRST [LINE...]]]   readings by the tool's own advice until it is sure, or
//                                                               knows of no further test
//   airtally_hunt_study plugged CASES [SEED [FIRST [LINE...]]]  the same with a loose gauge at hand
//
// FIRST is the number of the first case, so that one case can be looked at by itself.
#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <string>

#include "agreement/hunt_proof.hpp"
#include "read/line_file.hpp"

using namespace airtally;

namespace {

line::Line line_named(const std::string& name) {
  return read::read_line(std::string(AIRTALLY_LINES) + "/" + name + ".toml");
}

void calibration(const std::string& name, int cases, std::uint64_t seed, int first) {
  const agreement::Calibration c = agreement::calibrate(line_named(name), cases, seed, first);
  fmt::print("{}", agreement::text(c));
}

/// A line as it goes, as all of them take long.
void tell(const agreement::Planted& p) {
  static std::size_t told = 0;
  for (; told < p.misses.size(); ++told) fmt::print("{}\n", p.misses[told]);
  fmt::print("{} cases: first {}, verdicts {}, right {}", p.cases, p.first, p.sure, p.sure_right);
  if (!p.tests.empty())
    fmt::print(", the last after {} tests, {} joints and {} readings", p.tests.back(), p.joints.back(),
               p.readings.back());
  fmt::print("\n");
  std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
  const std::string what = argc > 1 ? argv[1] : "";
  const auto number = [&](int i, long fallback) { return argc > i ? std::strtol(argv[i], nullptr, 10) : fallback; };
  if (what == "calibration" && argc > 2) {
    calibration(argv[2], static_cast<int>(number(3, 500)), static_cast<std::uint64_t>(number(4, 1)),
                static_cast<int>(number(5, 0)));
  } else if (what == "planted" || what == "capped" || what == "advice" || what == "plugged") {
    agreement::Planting how;
    how.cases = static_cast<int>(number(2, 500));
    how.seed = static_cast<std::uint64_t>(number(3, 1));
    how.first = static_cast<int>(number(4, 0));
    how.by_advice = what == "advice" || what == "plugged";
    how.gauge_at_source = what == "capped";
    how.plug_gauge = what == "plugged";
    for (int i = 5; i < argc; ++i) how.lines += std::string(argv[i]) + ' ';
    const agreement::Planted all = agreement::plant(how, tell);
    fmt::print("\n{}", agreement::text(all));
  } else {
    fmt::print(
        stderr,
        "calibration LINE CASES [SEED [FIRST]] | (planted|capped|advice|plugged) CASES [SEED [FIRST [LINE...]]]\n");
    return 2;
  }
  return 0;
}
