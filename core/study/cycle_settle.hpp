#pragma once
#include <vector>

#include "study/cycle_run.hpp"

namespace airtally::study {

/// Cycles count as the same within this [Pa]; a fine gauge's last digit.
inline constexpr double alike = 100.0;

/// A schedule run until it repeats itself. Times of the plan and the run are those of the cycle shown, the last one.
struct SettledRun {
  Plan plan;              ///< its `repeats` are the cycles run
  CycleRun run;           ///< of the cycle shown
  double drift = 0.0;     ///< largest difference between it and the one before, at every mouth and gauge [Pa]
  bool settled = true;    ///< however often it is repeated, it stays within `alike` of this, as far as can be foreseen
  bool carried = false;   ///< what the line holds was carried ahead, since it changes too slowly to be followed
  double memory = 0.0;    ///< least share of a place's vacuum that a cycle does away with [-]; 1: none was asked
  std::vector<double> x;  ///< what the line holds as that cycle begins, the state of its system [Pa]
};

/// Runs `line`'s schedule until the cycle no longer changes. A reservoir on a small pump may take thousands of cycles
/// to come to rest; how long is found from what one cycle leaves of a small change of everything that the line holds,
/// and what is left to go is then taken in leaps. `like`: a similar line that has been run, to begin from and to go by;
/// nullptr: none. Throws as plan() and play() do.
SettledRun settle(const line::Line& line, const line::Topology& topology, const CycleOptions& options,
                  const SettledRun* like = nullptr);

}  // namespace airtally::study
