#pragma once
#include "solve/line_system.hpp"
#include "solve/trajectory.hpp"
#include "study/cycle.hpp"
#include "study/cycle_plan.hpp"

namespace airtally::study {

/// A schedule played on a line.
struct CycleRun {
  /// Pressures [Pa, absolute]: mouths of all nozzles, then what the gauges feel, then sources' inlets; each in line
  /// order.
  solve::Trajectory trajectory{{}};
  std::vector<std::size_t> gauges;   ///< elements with a gauge, in line order
  std::vector<std::size_t> sources;  ///< elements, in line order
  double ambient = 0.0;              ///< of the site [Pa, absolute]
  double worst_balance = 0.0;        ///< mass or energy unaccounted for, relative to what the line holds [-]
  std::size_t steps = 0,             ///< of the integration, accepted
      pieces = 0;                    ///< stretches of time between events
};

/// Plays `plan`, which is plan() of the same line. Throws BadInput, NoConvergence.
CycleRun play(const line::Line& line, const line::Topology& topology, const Plan& plan, const CycleOptions& options);

}  // namespace airtally::study
