#pragma once
#include <optional>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "line/seat.hpp"
#include "line/topology.hpp"

namespace airtally::study {

/// What a head or a source does at one moment.
enum class Act {
  valve_opens,   ///< begins to open towards the pump
  approach,      ///< the nozzle begins its last stretch down
  touch,         ///< it meets the part
  valve_closes,  ///< begins to close; a vent begins to open
  vent_closes,   ///< the vent begins to close
  retract,       ///< the nozzle leaves the part
  pump_starts,   ///< all sources
  pump_stops     ///< all sources
};

/// One act at its moment. What belongs to one cycle may fall into a later one, where heads are delayed or vents stay
/// open for long. Moments that are the same on paper are the same number: no sum over many cycles tells them apart.
struct PlannedEvent {
  double since = 0.0;    ///< from the start of the cycle that it belongs to [s] >= 0
  Act act = Act::touch;  ///< what happens
  std::size_t head = 0;  ///< index into Plan::heads; for pumps 0
  int repeat = 0;        ///< the cycle that it belongs to, from 0
  int turn = 0;          ///< the cycle that it falls into, from 0
  double at = 0.0;       ///< from the start of that one [s] >= 0, less than the period
};

/// One head's times in its first cycle [s], its delay included.
struct HeadPlan {
  std::size_t nozzle = 0;        ///< index into the line
  std::size_t nozzle_index = 0;  ///< index into the nozzles
  /// The first on its way to the pump, an index into the line; line::none: there is none.
  std::size_t valve = line::none;
  double valve_on = 0,         ///< command to the valve
      approach = 0,            ///< the last stretch down begins
      touch = 0,               ///< the nozzle meets the part
      place = 0,               ///< the part stands again
      release = 0,             ///< command to let go
      retract = 0;             ///< the nozzle leaves the part
  std::optional<double> lift,  ///< as scheduled; none: as soon as it is safe
      travel,                  ///< sideways moves begin; none: with the lift
      vent_end;                ///< command to close the vent; none: it stays open
  /// Any but closed: the nozzle comes down on nothing that it could close on, and stays open throughout.
  line::Seat seat = line::Seat::closed;
};

/// The schedule of the whole line, over all repeats.
struct Plan {
  std::vector<HeadPlan> heads;       ///< in line order of the nozzles
  std::vector<PlannedEvent> events;  ///< in time order; of those at one moment first what belongs to the earlier cycle
  double period = 0.0;               ///< length of one cycle, the heads' delays left out [s]
  int repeats = 1;          ///< complete ones; heads that work later than others are followed until they are done, too
  int carried = 0;          ///< how many cycles later than its own the latest act falls; from then on all are alike
  double shown_from = 0.0,  ///< when the last cycle, the one shown, begins [s]
      end = 0.0;            ///< when the last head is done [s]
};

/// Lays out the file's [cycle], `repeats` times over where it has a period. Throws BadInput: no [cycle] or no [part];
/// times out of order (line/cycle_order.hpp), also those at which a valve opens and closes; a head naming no nozzle;
/// two heads on one valve at different times.
Plan plan(const line::Line& line, int repeats = 3);

/// The same schedule, but the head `head`, an index into its heads, comes down where no part lies in the repeats from
/// `from` on: it stays open.
Plan without_part(Plan plan, std::size_t head, int from = 0);

}  // namespace airtally::study
