#pragma once
#include <optional>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "line/seat.hpp"
#include "solve/line_system.hpp"

namespace airtally::study {

/// Something that happens at a known moment.
struct CycleEvent {
  double time = 0.0;        ///< from the begin of the cycle shown [s]
  std::size_t element = 0;  ///< valve, nozzle or source, an index into the line
  std::string what;         ///< "opens", "meets the part", ...
};

/// What would bring the safe lift forward.
struct CycleGain {
  std::optional<std::size_t> element;  ///< none: not one element but what `what` says
  std::string what;  ///< "without leak and restriction", "without its leak", "without its delay", "with twice the flow"
  double gain = 0.0;  ///< earlier by this [s]; below 0: later
};

/// One head's pick. Times [s] from the begin of the cycle shown.
struct HeadCycle {
  std::size_t nozzle = 0;            ///< index into the line
  std::optional<std::size_t> valve;  ///< index into the line; none: the nozzle hangs on the pump without one
  double valve_on = 0.0;             ///< command to the valve [s]
  double touch = 0.0;                ///< the nozzle meets the part [s]
  /// Earliest moment from which the head may lift, since the vacuum for it is there until place [s]: that to lift, and
  /// where the head travels as it lifts that to travel too. None: never.
  std::optional<double> safe_lift;
  std::optional<double> safe_travel;  ///< the same for its sideways moves [s]; none: never
  /// Without a safe lift, where the vacuum for it is there when the head is told to let go, but no longer at place:
  /// since when [s], not before touch. None: there is a safe lift, or it was not there then either.
  std::optional<double> held_from;
  double lost_at = 0.0;           ///< with `held_from`: when it is gone [s]
  bool travels_with_lift = true;  ///< the file has no later moment for them
  double lift = 0.0;              ///< as scheduled, else the safe one, else touch [s]
  double travel = 0.0;            ///< sideways moves begin [s]
  double place = 0.0;             ///< the part stands again [s]
  double release = 0.0;           ///< command to let go [s]
  std::optional<double> let_go;   ///< when the vacuum no longer carries the part's weight; none: not before the end [s]
  double needed_to_lift = 0.0;    ///< vacuum to take it up, with safety [Pa]
  double needed_to_travel = 0.0;  ///< vacuum through all its moves, with safety [Pa]
  double margin_at_lift = 0.0;    ///< vacuum beyond the need [Pa]; below 0: too little
  double blow = 0.0;              ///< highest pressure above ambient under the part once it is told to let go [Pa] >= 0
  double margin_in_travel = 0.0;  ///< the least of it from travel to place [Pa]
  double worst_moment = 0.0;      ///< when that is [s]
  /// Vacuum that must be there from the safe lift on [Pa].
  double needed_from_lift() const { return travels_with_lift ? needed_to_travel : needed_to_lift; }
  line::Seat seat = line::Seat::closed;  ///< any other: its mouth stays open, and there is nothing to let go
  std::string why_not_closed;            ///< what is wrong with that seat (seat.hpp); empty where it is closed
  /// Whether the head lifts and moves its part with all its safety.
  bool works() const {
    return seat == line::Seat::closed && safe_lift.has_value() && margin_at_lift >= 0.0 && margin_in_travel >= 0.0;
  }
};

/// All places at one moment.
struct CycleSample {
  double time = 0.0;           ///< from the begin of the cycle shown [s]
  std::vector<double> vacuum;  ///< per place, in the order of CycleAnswer::places [Pa]
};

/// A place that is sampled: the mouth of a nozzle (0 while nothing is on it), what a gauge shows, or the inlet of a
/// source.
struct CyclePlace {
  std::size_t element = 0;  ///< index into the line
  bool gauge = false;       ///< what its gauge shows
  bool source = false;      ///< its inlet; neither: a nozzle's mouth
};

/// A cycle as it runs.
struct CycleAnswer {
  std::vector<CycleEvent> events;  ///< of the cycle shown, in time order
  std::vector<HeadCycle> heads;    ///< in line order of the nozzles
  /// Index into heads: the safe lift that comes latest after its touch; never is latest of all.
  std::size_t slowest = 0;
  std::vector<CyclePlace> places;    ///< mouths of all nozzles, then gauges, then sources, each in line order
  std::vector<CycleSample> samples;  ///< evenly spread over the cycle shown, both ends included
  double begin = 0.0,                ///< of the cycle shown [s]: 0
      end = 0.0;                     ///< and its end [s]; times above are from its begin
  int repeats = 1;                   ///< cycles run; the last one is shown
  double drift = 0.0;                ///< largest difference between the last two, anywhere [Pa]; 0 when run once
  /// However often it is repeated, no vacuum will be more than 100 Pa from what is shown; at the widest gap neither.
  /// Else what is shown says nothing about how the line works.
  bool settled = true;
  bool carried = false;  ///< what the line holds was carried ahead between cycles, so that fewer have to be run
  /// What would bring the slowest head's safe lift forward, most first; empty where it is the touch, or never.
  std::vector<CycleGain> limits;
  double worst_balance = 0.0;  ///< mass or energy unaccounted for, relative to what the line holds [-]
  std::size_t steps = 0,       ///< of the integration, accepted
      pieces = 0;              ///< stretches of time between events
  /// The same heads with the part's gap at the wide end of its tolerance, by which hold() judges too; empty where the
  /// file is sure of the gap.
  std::vector<HeadCycle> widest;
  double widest_gap = 0.0;         ///< that gap [m]
  std::vector<std::string> notes;  ///< what else to know, a sentence each (cycle_notes.hpp)
  /// Whether every head lifts and moves its part with all its safety, at the widest gap too, in a cycle that has
  /// settled.
  bool works() const;
};

/// How a cycle is computed.
struct CycleOptions {
  solve::Thermal thermal = solve::Thermal::wall;  ///< how air and walls exchange heat
  std::size_t samples = 241;                      ///< moments to sample, two or more
  bool limits = true;                             ///< they cost a run for every element
  std::optional<std::size_t> missed = {};         ///< head that finds no part, all before having found theirs
  bool widest = true;                             ///< the run at the widest gap, where the file is not sure of it
  int segments = 2;                               ///< pieces of long tubes, > 0
  double relative = 1e-6,                         ///< accuracy of a step, of the unknown [-]
      absolute = 0.05;                            ///< and absolute [Pa]
};

/// One whole pick after the file's [cycle]: valves open and close over their delays and ramps, nozzles come down, meet
/// the part, carry it and let it go. Integrated from one event to the next, never across. Starts at rest with the
/// valves closed and the tips open (pump always on) or from ambient (pump switched). With a period the cycle is run
/// until it repeats itself (cycle_settle.hpp), three times or more, and the last is shown.
/// Throws BadInput as plan() and hold() do, NoConvergence.
CycleAnswer cycle(const line::Line& line, const CycleOptions& options = {});

}  // namespace airtally::study
