#pragma once
#include <span>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "solve/network.hpp"

/// A pump against its line: what the one gives and the other takes, over the vacuum between them.
namespace airtally::study {

/// Flow of free air at a vacuum at the pump's inlet.
struct DemandPoint {
  double vacuum = 0.0;  ///< at the pump's inlet [Pa]
  double flow = 0.0;    ///< taken there [kg/s] >= 0
};

/// What the line lets in, in one state of its tips.
struct Demand {
  std::vector<solve::TipState> tips;  ///< one state per nozzle
  /// Rising with vacuum, from next to none to next to the deepest that the pump reaches.
  std::vector<DemandPoint> curve;
  DemandPoint meets;  ///< where it crosses the pump's curve: the line at rest
};

/// One source's curve at the line's site.
struct SourceCurve {
  std::string name;                ///< of the element or the spare
  std::vector<DemandPoint> curve;  ///< falling, from no vacuum to no flow
};

/// A source's curve and what its line takes.
struct PumpAgainstLine {
  std::size_t element = 0;          ///< the source, an index into the line
  SourceCurve pump;                 ///< its curve
  std::vector<Demand> demands;      ///< one per state asked for, in that order
  std::vector<SourceCurve> spares;  ///< other pumps in its place, in the order given
};

/// The line's first source against the line in each of `states` (one state per nozzle each). The demand is traced by
/// giving that source more or less flow, all others as they are, so that each point is a line at rest. `spares`: pumps
/// or ejectors whose curves to set beside it. Throws BadInput, NoConvergence.
PumpAgainstLine pump_against_line(const line::Line& line, std::span<const std::vector<solve::TipState>> states,
                                  std::span<const line::Element> spares = {});

}  // namespace airtally::study
