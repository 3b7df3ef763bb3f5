#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "errors.hpp"
#include "units/quantity.hpp"

/// The parts of a vacuum line as a person describes them. Plain data in SI; nothing here computes.
namespace airtally::line {

using units::Quantity;

enum class Kind {
  pump,
  ejector,  // sources of vacuum
  tube,
  spindle,
  coupler,
  rotary,
  nozzle,  // bores that air runs through
  valve,
  filter,
  check_valve,  // restrictions with a data sheet
  tee,
  reservoir,
  plug  // places
};

/// The word the line file uses: "check-valve".
std::string_view word(Kind kind);
/// All words, in the order of the enumeration.
const std::vector<std::string_view>& kind_words();
/// The kind of that word, if there is one.
std::optional<Kind> kind_of(std::string_view word);

/// A source of vacuum: pump or ejector.
bool is_source(Kind kind);
/// A place: its two ends are one; no restriction.
bool is_place(Kind kind);

// ---- leaks: each enters at its element's tip-side end -------------------------------------------------------------

/// A sharp-edged hole.
struct Hole {
  Quantity diameter;          ///< [m]
  Quantity discharge = 0.72;  ///< discharge coefficient [-]
};

/// The annular clearance of a rotary joint or sliding seal.
struct Clearance {
  Quantity gap;               ///< radial [m]
  Quantity diameter;          ///< [m]
  Quantity length;            ///< [m]
  Quantity eccentricity = 0;  ///< 0 to 1 [-]
};

/// A leak known from one measurement between the site's ambient and a vacuum.
struct RatedLeak {
  Quantity flow;         ///< [kg/s] > 0
  Quantity at;           ///< vacuum [Pa] > 0
  bool orifice = false;  ///< false: laminar, m = k (p1^2 - p2^2); true: orifice-like, a conductance with b = 0.528
};

using Leak = std::variant<Hole, Clearance, RatedLeak>;

// ---- what air runs through ------------------------------------------------------------------------------------------

/// A round bore.
struct Bore {
  Quantity bore;           ///< [m]
  Quantity length;         ///< [m]
  Quantity roughness = 0;  ///< [m]; 0 is smooth
  Quantity loss = 0;       ///< sum of further minor losses K, such as bends [-]
};

/// A data sheet's figures by ISO 6358.
struct Iso {
  Quantity conductance;            ///< C [m3/(s Pa)]
  Quantity critical_ratio = 0.35;  ///< b [-]
};

/// A filter known from one measurement, laminar, with one atmosphere upstream.
struct RatedDrop {
  Quantity flow;  ///< [kg/s]
  Quantity drop;  ///< [Pa]
};

using Restriction = std::variant<std::monostate, Bore, Iso, RatedDrop>;

// ---- what only some elements have
// --------------------------------------------------------------------------------------

/// One point of a pump's curve at 101,325 Pa and 20 C.
struct CurvePoint {
  Quantity vacuum;  ///< [Pa] below ambient
  Quantity value;   ///< flow [kg/s], or current [A]
};

/// A pump, or an ejector's suction side.
struct Pump {
  std::vector<CurvePoint> flow;                 ///< rising vacuum, flow falling to zero at the last point
  std::vector<CurvePoint> current;              ///< motor current; empty when not known
  Quantity speed = 1;                           ///< factor on the flow, as for a lower supply voltage [-]
  std::optional<Quantity> back_leak;            ///< C of the way back through it when it stands still [m3/(s Pa)]
  std::optional<Quantity> ripple_frequency;     ///< [Hz]
  std::optional<Quantity> ripple_peak_to_peak;  ///< [Pa] at its inlet
  std::optional<Quantity> supply;               ///< ejector: supply pressure above ambient [Pa]
  std::optional<Quantity> consumption;          ///< ejector: air used [kg/s]
};

enum class ValveState { open, closed, vent };

/// The release port of a valve.
struct Vent {
  Iso path;
  std::optional<Quantity> blow_off;  ///< supply pressure above ambient [Pa]; none: vents to ambient
};

struct Valve {
  Quantity opens = 0;   ///< delay from command to open [s]
  Quantity closes = 0;  ///< delay from command to closed [s]
  Quantity ramp = 0;    ///< time it then takes to move from one to the other [s]
  std::optional<Vent> vent;
  ValveState state = ValveState::open;
};

struct Gauge {
  Quantity accuracy = 0;          ///< 2-sigma, shared by all its readings [Pa]
  Quantity resolution = 0;        ///< of one reading [Pa]
  std::optional<Quantity> range;  ///< deepest vacuum that it reads [Pa]
  std::optional<Bore> tube;       ///< its own small tube; none: it sits in the line itself
  Quantity volume = 0;            ///< dead volume behind that tube [m3]
};

/// One thing between pump and part.
struct Element {
  std::string name;
  Kind kind = Kind::tube;
  std::string
      after;  ///< name of the element at whose tip-side end this one starts; empty: the one before it in the list
  std::string joins;  ///< name of the element with whose tip-side end this one's is merged; empty: none

  Restriction restriction;
  std::vector<Leak> leaks;
  Quantity volume = 0;  ///< stated, at the tip-side end, beyond the bore's own [m3]
  std::optional<Gauge> gauge;
  std::optional<Pump> pump;          ///< pump and ejector
  std::optional<Valve> valve;        ///< valve
  std::optional<Quantity> cracking;  ///< check valve: drop at which it opens [Pa]
  std::optional<Quantity> rim;       ///< nozzle: outer diameter of its mouth [m]
  std::optional<Quantity> spacing;   ///< nozzle: distance to the next nozzle [m]
  std::optional<Quantity> wall;      ///< tube: wall thickness [m]
  std::optional<Quantity> modulus;   ///< tube: Young's modulus [Pa]
  double effort = 1;                 ///< joints to undo to cap the line here

  std::vector<std::string> assumed;  ///< what was not given and what was taken instead, a phrase each
  Position where;                    ///< of the name
  Position after_at;
  Position joins_at;
};

}  // namespace airtally::line
