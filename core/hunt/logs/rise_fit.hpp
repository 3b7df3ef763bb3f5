#pragma once
#include <optional>
#include <span>
#include <vector>

#include "line/line.hpp"
#include "line/log.hpp"
#include "solve/line_system.hpp"
#include "study/course.hpp"

namespace airtally::hunt {

/// How far a model's course is from a log.
struct Misfit {
  double rms = 0.0;       ///< root of the mean square [Pa]
  double worst = 0.0;     ///< model minus log where they are farthest apart [Pa]
  double worst_at = 0.0;  ///< when [s]
};

/// A factor that a fit found.
struct FittedFactor {
  double value = 1.0;  ///< [-], 1/55 to 55
  double error = 0.0;  ///< one standard deviation [-]
};

/// A measured pull-down beside the line's own.
struct RiseFit {
  line::Log log;                  ///< as it was recorded
  std::size_t element = 0;        ///< where the log is taken to have been recorded, an index into the line
  std::vector<double> predicted;  ///< vacuum by the line as it is written [Pa], one per row of the log
  std::vector<double> fitted;     ///< vacuum with the factors below [Pa]; empty when they could not be had
  Misfit before,                  ///< of the line as it is written
      after;                      ///< with the factors; all 0 when they could not be had
  std::optional<FittedFactor>
      volume,                ///< on all volumes; none: the log does not tell them apart or the fit found no end
      pump_flow;             ///< on the pumps' flow; none: the same
  double correlation = 0.0;  ///< of the two errors [-]
};

/// Compares a log with the pull-down that rise() predicts for its place, and fits the factor on all volumes and that on
/// the pumps' flow, both above zero, by least squares on the vacuum (Levenberg and Marquardt, least_squares()), slopes
/// by central differences. Errors are those of a linear model at the optimum, with the noise taken from the residuals:
/// variance = (J^T J)^-1 sum/(n - 2). They hold when the residuals are noise; when the line file is wrong in other ways
/// (a leak it doesn't have), the remaining misfit says so.
///
/// The volume factor moves the time scale alone; the pump's factor also the final vacuum, unless nothing leaks: then a
/// log tells only their ratio, and both are none. Rows before t = 0 count as ambient. `tips`: one state per nozzle;
/// `segments`: pieces of long tubes. Throws BadInput, NoConvergence.
/// Tested by tests/hunt/rise_fit_test.cpp.
RiseFit fit_rise(const line::Line& line, std::span<const solve::TipState> tips, std::size_t element,
                 const line::Log& log, solve::Thermal thermal, int segments);

}  // namespace airtally::hunt
