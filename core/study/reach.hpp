#pragma once
#include <optional>
#include <span>

#include "line/line.hpp"

/// How long a line takes, part on, to give every tip the vacuum that it needs: the one answer of all who ask.
namespace airtally::study {

/// From ambient until every tip, part on at the widest gap, by which hold() judges too, has its need [s] >= 0. None:
/// one never has it, or the part does not close a nozzle. `needs`: one per nozzle [Pa]; `segments`: pieces of long
/// tubes, 1 or more. Throws BadInput, NoConvergence.
std::optional<double> slowest_reach(const line::Line& line, std::span<const double> needs, int segments);

/// The slowest tip's times, part on, from ambient.
struct PartTimes {
  double settle = 0.0;          ///< as rise() has it, so at the middle of the gap [s] >= 0
  std::optional<double> reach;  ///< slowest_reach() [s]
};
/// Both of them, from one pull-down for each tip where the file is sure of the gap. Arguments and throws as above.
PartTimes part_times(const line::Line& line, std::span<const double> needs, int segments);

}  // namespace airtally::study
