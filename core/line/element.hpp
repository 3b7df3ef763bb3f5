#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "errors.hpp"
#include "units/quantity.hpp"

/// The parts of a vacuum line as a person describes them. Plain data in SI; nothing here computes or checks. Ranges
/// below are what the laws take, which throw DomainError outside; a line file is held to narrower ones
/// (docs/line-format.md).
namespace airtally::line {

/// A value in SI with its uncertainty.
using units::Quantity;

/// What an element is. Pump and ejector are sources of vacuum; tube to nozzle are bores that air runs through; valve,
/// filter, trap and check valve have a data sheet; tee, reservoir and plug are places.
enum class Kind {
  pump,         ///< with a curve; begins a branch
  ejector,      ///< driven by compressed air; its suction side's curve
  tube,         ///< hose or pipe
  spindle,      ///< hollow; a bore, or a data sheet's conductance
  coupler,      ///< the same
  rotary,       ///< rotary joint, the same; it usually leaks
  nozzle,       ///< ends a branch; its tip is open, carries the part or is blocked
  valve,        ///< with delays and perhaps a release port
  filter,       ///< one measured drop, or a data sheet's conductance
  trap,         ///< the same, with a bowl that catches water, glue or chaff
  check_valve,  ///< passes air towards the pump only
  tee,          ///< where branches meet
  reservoir,    ///< a volume
  plug          ///< a closed end
};

/// The word the line file uses: "check-valve".
std::string_view word(Kind kind);
/// All words, in the order of the enumeration, none twice.
const std::vector<std::string_view>& kind_words();
/// The kind of that word, which is compared letter by letter; nothing if there is none.
std::optional<Kind> kind_of(std::string_view word);

/// A source of vacuum: pump or ejector.
bool is_source(Kind kind);
/// A place: its two ends are one; no restriction.
bool is_place(Kind kind);

// ---- leaks: each enters at its element's tip-side end -------------------------------------------------------------

/// A sharp-edged hole.
struct Hole {
  Quantity diameter;          ///< [m] > 0
  Quantity discharge = 0.72;  ///< discharge coefficient [-], 0 to 1; a middle value, see laws::hole()
};

/// The annular clearance of a rotary joint or sliding seal.
struct Clearance {
  Quantity gap;               ///< radial [m] > 0
  Quantity diameter;          ///< [m] > 0
  Quantity length;            ///< [m] > 0
  Quantity eccentricity = 0;  ///< 0 to 1 [-]
};

/// A leak known from one measurement between the ambient where it was measured and a vacuum.
struct RatedLeak {
  Quantity flow;         ///< [kg/s] > 0
  Quantity at;           ///< vacuum [Pa] > 0, less than the ambient there
  bool orifice = false;  ///< false: laminar, m = k (p1^2 - p2^2); true: orifice-like, a conductance with b = 0.528
  /// Ambient where it was measured [Pa, absolute] > 0; none: that of the line's site. carried_to() sets it.
  std::optional<double> ambient = std::nullopt;
};

/// One leak, by whichever of the three ways it is known.
using Leak = std::variant<Hole, Clearance, RatedLeak>;

// ---- what air runs through ------------------------------------------------------------------------------------------

/// A round bore.
struct Bore {
  Quantity bore;           ///< inner diameter [m] > 0
  Quantity length;         ///< [m] > 0; of a nozzle >= 0
  Quantity roughness = 0;  ///< of the wall [m], 0 to a tenth of the bore; 0 is smooth
  Quantity loss = 0;       ///< sum of further minor losses K, such as bends [-] >= 0
};

/// A data sheet's figures by ISO 6358.
struct Iso {
  Quantity conductance;            ///< C [m3/(s Pa)] >= 0
  Quantity critical_ratio = 0.35;  ///< b [-], 0 to 0.95
};

/// A filter or trap known from one measurement, laminar, with one atmosphere upstream.
struct RatedDrop {
  Quantity flow;  ///< [kg/s] >= 0
  Quantity drop;  ///< [Pa] > 0, less than one atmosphere
};

/// What air runs through; std::monostate where nothing restricts it, as in places and sources.
using Restriction = std::variant<std::monostate, Bore, Iso, RatedDrop>;

// ---- what only some elements have -----------------------------------------------------------------------------------

/// One point of a pump's curve at 101,325 Pa and 20 C.
struct CurvePoint {
  Quantity vacuum;  ///< [Pa] below ambient, >= 0
  Quantity value;   ///< flow [kg/s] >= 0, or current [A] >= 0
};

/// A pump, or an ejector's suction side.
struct Pump {
  std::vector<CurvePoint> flow;       ///< at least two: vacuum rising, flow falling to zero at the last point
  std::vector<CurvePoint> current;    ///< motor current, vacuum rising, two or more; empty when not known
  Quantity speed = 1;                 ///< factor on the flow, as for a lower supply voltage [-] > 0
  std::optional<Quantity> back_leak;  ///< C of the way back through it when it stands still [m3/(s Pa)]; none: tight
  std::optional<Quantity> ripple_frequency;     ///< of its pulses [Hz] > 0; none: it runs smoothly
  std::optional<Quantity> ripple_peak_to_peak;  ///< [Pa] at its inlet, given with the frequency
  std::optional<Quantity> supply;               ///< ejector: supply pressure above ambient [Pa]; told, not solved with
  std::optional<Quantity> consumption;          ///< ejector: air used [kg/s]; told, not solved with
};

/// What a valve does at rest.
enum class ValveState {
  open,    ///< passes air between its two ends
  closed,  ///< nothing passes
  vent     ///< closed, its release port open
};

/// The release port of a valve.
struct Vent {
  Iso path;                          ///< of the port itself
  std::optional<Quantity> blow_off;  ///< supply pressure above ambient [Pa]; none: vents to ambient
};

/// What a valve has beside its conductance.
struct Valve {
  Quantity opens = 0;                   ///< delay from command until it begins to open [s] >= 0
  Quantity closes = 0;                  ///< delay from command until it begins to close [s] >= 0
  Quantity ramp = 0;                    ///< time that it then takes to move, its flow changing evenly [s] >= 0
  std::optional<Vent> vent;             ///< its release port; none: it has none
  ValveState state = ValveState::open;  ///< at rest, where no cycle moves it
};

/// A gauge at an element's tip-side end.
struct Gauge {
  Quantity accuracy = 0;          ///< two standard deviations, shared by all its readings [Pa] >= 0
  Quantity resolution = 0;        ///< of one reading [Pa] >= 0
  std::optional<Quantity> range;  ///< deepest vacuum that it reads [Pa] > 0; none: any
  std::optional<Bore> tube;       ///< its own small tube; none: it sits in the line itself
  Quantity volume = 0;            ///< dead volume behind that tube [m3] >= 0; not counted without one
};

/// One thing between pump and part.
struct Element {
  std::string name;        ///< no two in a line are alike
  Kind kind = Kind::tube;  ///< what it is
  /// Name of the element at whose tip-side end this one starts; empty: the one before it in the list.
  std::string after;
  std::string joins;  ///< name of the element with whose tip-side end this one's is merged; empty: none

  Restriction restriction;           ///< of the sort that its kind has
  std::vector<Leak> leaks;           ///< any number, all at its tip-side end
  Quantity volume = 0;               ///< stated, at the tip-side end, beyond the bore's own [m3] >= 0
  std::optional<Gauge> gauge;        ///< none: nothing is read here
  std::optional<Pump> pump;          ///< pump and ejector, which need it
  std::optional<Valve> valve;        ///< valve; none: open, without delay
  std::optional<Quantity> cracking;  ///< check valve: drop at which it opens [Pa] >= 0; none: 0
  std::optional<Quantity> rim;       ///< nozzle: outer diameter of its mouth [m], above the bore; none: no face gap
  std::optional<Quantity> spacing;   ///< nozzle: distance to the next nozzle [m] > 0, for a warning
  std::optional<Quantity> wall;      ///< tube: wall thickness [m] > 0, for a warning
  std::optional<Quantity> modulus;   ///< tube: Young's modulus [Pa] > 0, for the same
  bool clear = false;                ///< air passes it without a drop, asked "what if"; no file says so
  double effort = 1;                 ///< joints to undo to cap the line here [-] >= 0

  std::vector<std::string> assumed;  ///< what was not given and what was taken instead, a phrase each
  Position where;                    ///< of the name, for complaints
  Position after_at;                 ///< of the key `after`
  Position joins_at;                 ///< of the key `joins`
};

}  // namespace airtally::line
