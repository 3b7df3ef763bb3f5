// The proof of the hunt at its full size: simulated hunts whose readings KINSOL computes. A program of its own, as it
// takes minutes; tests/agreement/hunt_proof_test.cpp runs a part of it.
//
//   airtally_hunt_study calibration LINE CASES [SEED]   truths drawn from the prior: coverage, rank histograms
//   airtally_hunt_study planted CASES [SEED]            leaks and blockages at every element: is the culprit first?
//   airtally_hunt_study advice CASES [SEED]             readings by the tool's own advice until it is sure
#include <fmt/format.h>

#include <cstdlib>
#include <string>

#include "agreement/hunt_proof.hpp"
#include "read/line_file.hpp"

using namespace airtally;

namespace {

line::Line line_named(const std::string& name) {
  return read::read_line(std::string(AIRTALLY_LINES) + "/" + name + ".toml");
}

void calibration(const std::string& name, int cases, std::uint64_t seed) {
  const agreement::Calibration c = agreement::calibrate(line_named(name), cases, seed);
  fmt::print("{}", agreement::text(c));
}

}  // namespace

int main(int argc, char** argv) {
  const std::string what = argc > 1 ? argv[1] : "";
  const auto number = [&](int i, long fallback) { return argc > i ? std::strtol(argv[i], nullptr, 10) : fallback; };
  if (what == "calibration" && argc > 2) {
    calibration(argv[2], static_cast<int>(number(3, 500)), static_cast<std::uint64_t>(number(4, 1)));
  } else if (what == "planted") {
    fmt::print("{}", agreement::text(agreement::plant(static_cast<int>(number(2, 500)),
                                                      static_cast<std::uint64_t>(number(3, 1)), false)));
  } else if (what == "advice") {
    fmt::print("{}", agreement::text(agreement::plant(static_cast<int>(number(2, 500)),
                                                      static_cast<std::uint64_t>(number(3, 1)), true)));
  } else {
    fmt::print(stderr, "calibration LINE CASES [SEED] | planted CASES [SEED] | advice CASES [SEED]\n");
    return 2;
  }
  return 0;
}
