#pragma once
#include <optional>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "solve/line_system.hpp"

namespace airtally::study {

/// Something that happens at a known moment.
struct CycleEvent {
  double time = 0.0;        ///< [s]
  std::size_t element = 0;  ///< valve, nozzle or source
  std::string what;         ///< "opens", "meets the part", ...
};

/// What would bring the safe lift forward.
struct CycleGain {
  std::optional<std::size_t> element;  ///< none: not one element but what `what` says
  std::string what;                    ///< "without leak and restriction", "a valve without delay", "twice the pump"
  double gain = 0.0;                   ///< earlier by this [s]
};

/// One head's pick.
struct HeadCycle {
  std::size_t nozzle = 0;            ///< element
  std::optional<std::size_t> valve;  ///< element; none: the nozzle hangs on the pump without one
  double valve_on = 0.0;             ///< command to the valve [s]
  double touch = 0.0;                ///< [s]
  std::optional<double>
      safe_lift;         ///< earliest moment from which the vacuum to lift is there until place; none: never [s]
  double lift = 0.0;     ///< as scheduled, else the safe one, else touch [s]
  double travel = 0.0;   ///< sideways moves begin [s]
  double place = 0.0;    ///< [s]
  double release = 0.0;  ///< command to let go [s]
  std::optional<double> let_go;   ///< when the vacuum no longer carries the part's weight; none: not before the end [s]
  double needed_to_lift = 0.0;    ///< [Pa]
  double needed_to_travel = 0.0;  ///< [Pa]
  double margin_at_lift = 0.0;    ///< vacuum beyond the need [Pa]
  double blow = 0.0;              ///< highest pressure above ambient under the part once it is told to let go [Pa]
  double margin_in_travel = 0.0;  ///< the least of it [Pa]
  double worst_moment = 0.0;      ///< when that is [s]
  bool works() const { return safe_lift.has_value() && margin_at_lift >= 0.0 && margin_in_travel >= 0.0; }
};

struct CycleSample {
  double time = 0.0;           ///< [s]
  std::vector<double> vacuum;  ///< per place, in the order of CycleAnswer::places [Pa]
};

/// A place that is sampled: the mouth of a nozzle (0 while nothing is on it), what a gauge shows, or the inlet of a
/// source.
struct CyclePlace {
  std::size_t element = 0;
  bool gauge = false;
  bool source = false;
};

struct CycleAnswer {
  std::vector<CycleEvent> events;  ///< of the cycle shown, in time order
  std::vector<HeadCycle> heads;    ///< in line order of the nozzles
  std::size_t slowest = 0;         ///< index into heads: the latest safe lift, one that never comes first of all
  std::vector<CyclePlace> places;
  std::vector<CycleSample> samples;
  double begin = 0.0, end = 0.0;  ///< the cycle shown [s]; times above are from its begin
  int repeats = 1;                ///< cycles run; the last one is shown
  double drift = 0.0;             ///< largest difference between the last two, anywhere [Pa]; 0 when run once
  std::vector<CycleGain>
      limits;  ///< what would bring the slowest head's safe lift forward, most first; empty where it is the touch
  double worst_balance = 0.0;  ///< mass or energy unaccounted for, relative to what the line holds
  std::size_t steps = 0, pieces = 0;
  std::vector<std::string> notes;
};

struct CycleOptions {
  solve::Thermal thermal = solve::Thermal::wall;
  std::size_t samples = 241;
  bool limits = true;                       ///< they cost a run for every element
  int segments = 2;                         ///< of long tubes
  double relative = 1e-6, absolute = 0.05;  ///< accuracy of a step; absolute [Pa]
};

/// One whole pick after the file's [cycle]: valves open and close over their delays and ramps, nozzles come down, meet
/// the part, carry it and let it go. Integrated from one event to the next, never across. Starts at rest with the
/// valves closed and the tips open (pump always on) or from ambient (pump switched). With a period the cycle is run
/// three times and the last is shown; six times, twelve and so on up to 48 while it still changes by more than 100 Pa.
/// Throws BadInput, NoConvergence.
CycleAnswer cycle(const line::Line& line, const CycleOptions& options = {});

}  // namespace airtally::study
