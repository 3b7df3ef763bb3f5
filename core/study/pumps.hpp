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
  drops      ///< not even so, or the part is smaller than the bore
};

/// One pump on this line.
struct PumpTry {
  std::string name;
  bool own = false;                       ///< what the line has now
  bool ejector = false;                   ///< driven by compressed air
  double free_flow = 0.0, deepest = 0.0;  ///< of its curve, as read at 101,325 Pa and 20 C [kg/s], [Pa]
  double vacuum_open = 0.0, vacuum_part = 0.0, vacuum_blocked = 0.0;  ///< at the weakest tip [Pa]
  double margin = 0.0;                                                ///< of the hold, at the widest gap [Pa]
  double settle = 0.0;                                                ///< from ambient, part on [s]
  std::optional<double> reach;                       ///< from ambient until the tip has what the moves need [s]
  std::optional<double> duty;                        ///< part of its time that it has to run to keep that
  double flow = 0.0;                                 ///< taken with the part on [kg/s]
  std::optional<double> current_open, current_part;  ///< [A]; none: not known
  std::optional<double> margin_sagging;              ///< of the hold at less supply voltage [Pa]; none for an ejector
  double margin_high = 0.0;                          ///< of the hold at the other altitude [Pa]
  std::vector<std::vector<Grasp>> grasps;            ///< per part, per nozzle
  std::vector<std::string> troubles;                 ///< why it does not do; none: it does
  bool does() const { return troubles.empty(); }
};

/// A point of the curve that would just do, as read at 101,325 Pa and 20 C.
struct RequiredPoint {
  double vacuum = 0.0;  ///< [Pa]
  double flow = 0.0;    ///< the least that will do [kg/s]
};

struct Pumps {
  std::size_t element = 0;              ///< the pump that is exchanged
  std::vector<PumpTry> tries;           ///< the line's own first
  std::optional<std::size_t> smallest;  ///< of those that do, the one of least free flow
  std::vector<std::string> parts;       ///< of the matrix: the line's own, then the others
  std::vector<std::string> nozzles;
  RequiredPoint hold;                    ///< at its vacuum the pump must give this, or the part is lost
  bool hold_possible = true;             ///< false: no pump can, the need is beyond the room's pressure
  std::optional<double> time;            ///< allowed from the valve's opening to the lift [s]; none: no [cycle] says so
  std::optional<double> speed_for_time;  ///< free flow of a pump of constant speed that makes it in time [kg/s]
  std::vector<RequiredPoint> required;   ///< both together, falling with vacuum; empty where no pump can
  double needed = 0.0;                   ///< vacuum at the tip that the moves need [Pa]
  double supply = 0.9;                   ///< share of the supply voltage
  double high_pressure = 0.0;            ///< ambient at the other altitude [Pa]
  std::vector<std::string> notes;
};

struct PumpsOptions {
  std::vector<line::Element> stock;    ///< pumps and ejectors to try
  std::vector<line::Part> parts;       ///< that the line may have to pick as well
  std::vector<line::Element> nozzles;  ///< that it may have to pick with
  std::string at;                      ///< pump to exchange; empty: the line's first source
  double supply = 0.9;                 ///< share of the rated supply voltage to try [-]
  double altitude = 1500.0;            ///< to try [m]
};

/// Tries every pump in the place of the line's own. A pump does when it holds the part with its safety at the widest
/// gap and, where [cycle] gives both touch and lift, has the vacuum by then. Throws BadInput (no [part], no such pump),
/// NoConvergence.
Pumps pumps(const line::Line& line, const PumpsOptions& options);

/// The element that is exchanged: of that name, else the line's first source. Throws BadInput.
std::size_t pump_at(const line::Line& line, const std::string& name);

/// Vacuum that the moves need at the tip that needs most [Pa]. Throws BadInput (no [part]).
double needed_to_hold(const line::Line& line);

/// The line with another pump in the place of element `at`; its name and place stay.
line::Line with_pump(const line::Line& line, std::size_t at, const line::Element& pump);

}  // namespace airtally::study
