#pragma once
#include <optional>
#include <string>
#include <vector>

#include "line/line.hpp"

/// Which pump of a list does the job, and the curve that would just do.
namespace airtally::study {

/// How a pump's vacuum compares with what a part needs on a nozzle.
enum class Grasp {
  holds,     ///< with all its safety
  marginal,  ///< only without safety: it holds until something goes a little wrong
  drops      ///< not even so, or the part does not close the mouth
};

/// One pump on this line.
struct PumpTry {
  std::string name;          ///< of the element, or of the stock's
  bool own = false;          ///< what the line has now
  bool ejector = false;      ///< driven by compressed air
  double free_flow = 0.0,    ///< of its curve, as read at 101,325 Pa and 20 C [kg/s]
      deepest = 0.0;         ///< vacuum at which its curve ends, read there too [Pa]
  double vacuum_open = 0.0,  ///< at the weakest tip, all open [Pa]
      vacuum_part = 0.0,     ///< part on [Pa]
      vacuum_blocked = 0.0;  ///< all blocked [Pa]
  double margin = 0.0;       ///< of the hold, at the widest gap [Pa]; below 0: the part is lost
  double settle = 0.0;       ///< from ambient, part on, the slowest tip [s]
  /// From ambient until every tip has what the moves need of it, at the widest gap [s]; none: never.
  std::optional<double> reach;
  /// Part of its time that it has to run to keep that, the line's other sources running all the time [-]; none: it
  /// can't.
  std::optional<double> duty;
  double flow = 0.0;                       ///< taken with the part on [kg/s]
  std::optional<double> current_open,      ///< of its motor, tips open [A]; none: not known
      current_part;                        ///< part on [A]; none: not known
  std::optional<double> margin_sagging;    ///< of the hold at less supply voltage [Pa]; none for an ejector
  double margin_high = 0.0;                ///< of the hold at the other altitude [Pa]
  std::vector<std::vector<Grasp>> grasps;  ///< per part, per nozzle, in the order of Pumps::parts and Pumps::nozzles
  std::vector<std::string> troubles;       ///< why it does not do, a clause each; none: it does
  /// Whether it does the job.
  bool does() const { return troubles.empty(); }
};

/// A point of the curve that would just do, as read at 101,325 Pa and 20 C.
struct RequiredPoint {
  double vacuum = 0.0;  ///< at the pump's inlet [Pa]
  double flow = 0.0;    ///< the least that will do [kg/s]
};

/// Pumps in one line's place.
struct Pumps {
  std::size_t element = 0;     ///< the pump that is exchanged, an index into the line
  std::vector<PumpTry> tries;  ///< the line's own first
  /// Index into `tries`: of those that do, the one of least free flow; none: none does.
  std::optional<std::size_t> smallest;
  std::vector<std::string> parts;    ///< of the matrix, by name: the line's own, then the others
  std::vector<std::string> nozzles;  ///< the same of the nozzles
  RequiredPoint hold;                ///< at its vacuum the pump must give this, or the part is lost
  RequiredPoint hold_here;           ///< the same as the line's own air is, which is what a gauge there shows
  bool hold_possible = true;   ///< false: no pump can; the part closes not, or the need is beyond the room's pressure
  std::string why_not_closed;  ///< what is wrong with the part's seat on a nozzle (seat.hpp); empty: it closes all
  std::optional<double> time;  ///< allowed from the valve's opening to the lift [s]; none: no [cycle] says so
  /// Free flow of a pump of constant speed that makes it in time [kg/s]; none: no time, or no pump.
  std::optional<double> speed_for_time;
  std::vector<RequiredPoint> required;  ///< both together, falling with vacuum; empty where no pump can
  std::vector<double> needs;            ///< vacuum that the moves need at each nozzle [Pa], in line order
  double supply = 0.9;                  ///< share of the rated supply voltage that was tried [-]
  double high_pressure = 0.0;           ///< ambient at the other altitude [Pa, absolute]
  std::vector<std::string> notes;       ///< what the margins take for granted (Hold::notes), a sentence each
};

/// What is tried.
struct PumpsOptions {
  std::vector<line::Element> stock;    ///< pumps and ejectors to try
  std::vector<line::Part> parts;       ///< that the line may have to pick as well
  std::vector<line::Element> nozzles;  ///< that it may have to pick with
  std::string at;                      ///< pump to exchange; empty: the line's first source
  double supply = 0.9;                 ///< share of the rated supply voltage to try [-], 0.3 to 1.3
  double altitude = 1500.0;            ///< to try [m], -1000 to 11000
};

/// Tries every pump in the place of the line's own. A pump does when it holds the part with its safety at the widest
/// gap and, where there is a [cycle], every head of it works (HeadCycle::works). Throws BadInput (no nozzle, no [part],
/// no such pump, and as cycle() does), DomainError for a supply or altitude outside its range, NoConvergence.
Pumps pumps(const line::Line& line, const PumpsOptions& options);

/// Index of the element that is exchanged: the source of that name, the line's first when `name` is empty. Throws
/// BadInput when there is none.
std::size_t pump_at(const line::Line& line, const std::string& name);

/// The line with another pump in the place of element `at`, an index; its name and place stay, its volume and leaks are
/// the other's.
line::Line with_pump(const line::Line& line, std::size_t at, const line::Element& pump);

}  // namespace airtally::study
