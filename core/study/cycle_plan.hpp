#pragma once
#include <optional>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "line/topology.hpp"

namespace airtally::study {

/// What a head or a source does at one moment.
enum class Act { valve_opens, approach, touch, valve_closes, vent_closes, retract, pump_starts, pump_stops };

struct PlannedEvent {
  double time = 0.0;
  Act act = Act::touch;
  std::size_t head = 0;  ///< index into Plan::heads; for pumps 0
  int repeat = 0;        ///< the cycle that it belongs to
};

/// One head's times in its first cycle [s].
struct HeadPlan {
  std::size_t nozzle = 0;          ///< element
  std::size_t nozzle_index = 0;    ///< among the nozzles
  std::size_t valve = line::none;  ///< element
  double valve_on = 0, approach = 0, touch = 0, place = 0, release = 0, retract = 0;
  std::optional<double> lift, travel, vent_end;
};

/// The schedule of the whole line, over all repeats.
struct Plan {
  std::vector<HeadPlan> heads;
  std::vector<PlannedEvent> events;  ///< in time order
  double period = 0.0;               ///< length of one cycle, the heads' delays left out [s]
  int repeats = 1;  ///< complete ones; heads that work later than others are followed until they are done, too
  double shown_from = 0.0, end = 0.0;
};

/// Lays out the file's [cycle], `repeats` times over where it has a period. Throws BadInput: no [cycle] or no [part];
/// times out of order; a head naming no nozzle; two heads on one valve at different times; a valve that is told to open
/// before it has closed.
Plan plan(const line::Line& line, const line::Topology& topology, int repeats = 3);

}  // namespace airtally::study
