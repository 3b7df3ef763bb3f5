#pragma once
#include "solve/line_system.hpp"
#include "solve/trajectory.hpp"
#include "study/cycle.hpp"
#include "study/cycle_plan.hpp"

namespace airtally::study {

/// A schedule played on a line.
struct CycleRun {
  solve::Trajectory trajectory{{}};  ///< mouths of all nozzles, then what the gauges show, then sources' inlets; each
                                     ///< in line order
  std::vector<std::size_t> gauges;   ///< elements with a gauge
  std::vector<std::size_t> sources;  ///< elements
  double ambient = 0.0;
  double worst_balance = 0.0;
  std::size_t steps = 0, pieces = 0;
};

CycleRun play(const line::Line& line, const line::Topology& topology, const Plan& plan, const CycleOptions& options);

}  // namespace airtally::study
