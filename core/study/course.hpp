#pragma once
#include <span>
#include <vector>

#include "line/line.hpp"
#include "solve/line_system.hpp"

namespace airtally::study {

/// Factors by which a line on the bench may differ from its file.
struct LineFactors {
  double volume = 1.0;     ///< on every volume, tubes' included; walls stay as they are
  double pump_flow = 1.0;  ///< on every source's flow at every vacuum
};

struct CourseOptions {
  LineFactors factors;
  int segments = 4;  ///< pieces of long tubes
  solve::Thermal thermal = solve::Thermal::wall;
  double relative = 1e-8, absolute = 1e-3;  ///< accuracy of a step; absolute [Pa]
};

/// Vacuum [Pa] at `element` at each of `times` [s], rising from >= 0, of a pull-down from ambient as in rise(): what
/// its gauge feels if it has one, at the tip if it is a nozzle, else at its tip-side end. Throws BadInput,
/// NoConvergence.
std::vector<double> course(const line::Line& line, std::span<const solve::TipState> tips, std::size_t element,
                           std::span<const double> times, const CourseOptions& options = {});

}  // namespace airtally::study
