#pragma once
#include <span>
#include <vector>

#include "line/line.hpp"
#include "solve/line_system.hpp"

namespace airtally::study {

/// Factors by which a line on the bench may differ from its file.
struct LineFactors {
  double volume = 1.0;     ///< on every volume [-] > 0, tubes' included; walls stay as they are
  double pump_flow = 1.0;  ///< on every source's flow at every vacuum [-] > 0
};

/// How a course is computed.
struct CourseOptions {
  LineFactors factors;                            ///< on the line as the file has it
  int segments = 4;                               ///< pieces of long tubes, > 0
  solve::Thermal thermal = solve::Thermal::wall;  ///< how air and walls exchange heat
  double relative = 1e-8,                         ///< accuracy of a step, of the unknown [-]
      absolute = 1e-3;                            ///< and absolute [Pa]
};

/// Vacuum [Pa] at `element`, an index into the line, at each of `times` [s], rising from >= 0, of a pull-down from
/// ambient as in rise(): what its gauge feels if it has one, at the tip if it is a nozzle, else at its tip-side end.
/// `tips`: one state per nozzle. Throws BadInput, NoConvergence.
std::vector<double> course(const line::Line& line, std::span<const solve::TipState> tips, std::size_t element,
                           std::span<const double> times, const CourseOptions& options = {});

}  // namespace airtally::study
