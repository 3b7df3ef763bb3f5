#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "solve/answer.hpp"

namespace airtally::study {

/// What one instrument would read.
struct StripReading {
  std::size_t at = 0;             ///< element that carries the gauge, or the source, an index into the line
  double vacuum = 0.0;            ///< at its tip-side end [Pa]
  std::optional<double> current;  ///< a source's motor current, where its curve is known [A]
};

/// The line capped behind one element: everything beyond it is off, its tip-side end is blocked.
struct StripStep {
  std::size_t cap = 0;                 ///< the element, an index into the line
  std::size_t before = 0;              ///< index of the step one element nearer to the source; its own for a source
  std::vector<StripReading> readings;  ///< gauges first (those still on the line), then sources
  std::vector<StripReading> without;   ///< the same with this element off too; empty for a source
  /// Vacuum that this element costs the judging instrument: without it less with it [Pa]. On a line without forks that
  /// is the difference to the step before; behind a fork the other branches are on in both. 0 for a source.
  double change = 0.0;
  double leak = 0.0;  ///< what comes in through its own leaks then [kg/s] >= 0
  double end = 0.0;   ///< vacuum at the capped end, as a gauge in the plug would read it [Pa]
  /// Element whose instrument judges this step: Strip::judge, or where that is off the line or in no way open to the
  /// element, the source that the element hangs on.
  std::size_t judge = 0;
};

/// The line without one of its branches: what begins with that element is off, and the opening that it left is blocked.
struct StripBranch {
  std::size_t off = 0;                 ///< the element, an index into the line
  std::vector<StripReading> readings;  ///< as in a step
  double change = 0.0;  ///< vacuum that the branch costs the judging instrument: without it less with it [Pa]
};

/// The removal test on paper.
struct Strip {
  std::vector<StripStep> steps;        ///< from the pump to the nozzle
  std::vector<StripReading> whole;     ///< with nothing off, the tips as they were asked for; empty without a fork
  std::vector<StripBranch> branches;   ///< where the line forks, each branch by itself, from the pump outwards
  std::optional<std::size_t> culprit;  ///< element that costs most; none when none costs what the instrument can show
  std::vector<solve::TipState> tips;   ///< one per nozzle, as they were asked for
  std::size_t judge = 0;               ///< element whose instrument judges: the first gauge, else the first source
  bool by_current = false;             ///< judged by the ammeter, there being no gauge
  bool assumed_gauge = false;          ///< neither gauge nor ammeter: a gauge at the pump was assumed
};

/// Predicts the removal test. `tips`: one state per nozzle, for the branches that are not capped. Throws BadInput,
/// NoConvergence.
Strip strip(const line::Line& line, std::span<const solve::TipState> tips);

}  // namespace airtally::study
