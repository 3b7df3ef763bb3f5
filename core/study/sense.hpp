#pragma once
#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "laws/detection.hpp"
#include "line/line.hpp"
#include "study/sense_bounded.hpp"
#include "study/sense_chain.hpp"

namespace airtally::study {

/// Ways a tip can be that the sensor meets.
enum class TipLook {
  open,     ///< nothing on it
  half,     ///< half covered: half the open nozzle's flow
  part,     ///< on, at the middle of its gap's tolerance
  leaking,  ///< on, at the wide end
  tight,    ///< on, at the close end
  blocked   ///< a perfect seal
};

/// What a switch says at rest.
enum class SwitchSays {
  off,        ///< missed
  as_before,  ///< whatever it said before: between its two set points
  on          ///< held
};
/// "off", "as before", "on".
std::string_view word(SwitchSays says);

/// One way the tip can be, as the sensor meets it.
struct SensedState {
  std::string name;        ///< "open", "half covered", "part", "part, leaking", "blocked"
  ChainReading reading;    ///< at rest
  double deviation = 0.0;  ///< of the reading that decides, rms: noise, the other parts' gaps and, with the part, its
                           ///< own, as limits hold it [Pa]
  /// Others that the same limit holds, and that read the same, by name; empty where none does.
  std::vector<std::string> alike;
  std::optional<SwitchSays> says = {};  ///< by a switch's output, without any noise; none: the sensor is no switch
};

/// What the parts on the other nozzles do to the vacuum at the sensor, each with a gap of its own [Pa].
struct NeighboursFelt {
  double spread = 0.0;       ///< one standard deviation with the part on
  double spread_open = 0.0;  ///< the same with nothing on the nozzle
  double shift = 0.0;        ///< of the mean, against all of them at the middle of their gap's tolerance
  double alike = 0.0;        ///< one standard deviation were all their gaps alike, as in one batch
};

/// What one front end would leave, at its best gain; the file's own as it is.
struct FrontEndOutcome {
  line::FrontEnd kind = line::FrontEnd::bare;  ///< which front end
  bool own = false;                            ///< of the kind in the file, and then as it is there
  double gain = 0.0;                           ///< best for it, or the file's own [-], the bridge not yet loading it
  bool works = false;        ///< it lets the signal through in 99 % of builds; a bare bridge is taken to
  double counts = 0.0;       ///< between open and part, as they come through [counts]
  double noise = 0.0;        ///< of one decision, ripple included, rms [Pa]
  double error_rate = 0.0;   ///< with equal error and a threshold found on the bench [-]
  double share_alive = 0.0;  ///< of builds in which all states from open to blocked come through [-]
};

/// The sensor at another place.
struct SensorPlace {
  std::size_t element = 0;  ///< at its tip-side end, an index into the line; no nozzle
  double signal = 0.0;      ///< part against open, as much of it as gets through [Pa]
  double vacuum = 0.0;      ///< with the part [Pa]
  double noise = 0.0;       ///< of a decision with the part on, rms, gap included [Pa]
  double separation = 0.0;  ///< deviations between each state and the threshold of equal error [-]; of a switch set
                            ///< best there, with its own hysteresis and accuracy
};

/// What the sensor feels of a part in the pick of the file's [cycle], where the valve may have opened so shortly before
/// that the line is still being pulled down.
struct SensedPick {
  // From touch until what is read is safe, averaging included [s]; none: at no time before the part is put down.
  std::optional<double> held,  ///< a held part reads as held
      missed;                  ///< a missed one as missed: behind a closed valve there is vacuum of old
  double most = 0.0;           ///< that the sensor feels of a held part between touch and place [Pa]
  std::optional<double>
      lift;                ///< from touch [s], as scheduled, else the safe one; none: it never has the vacuum for it
  double place = 0.0;      ///< from touch until the part is put down [s]
  double held_last = 0.0,  ///< felt as it is put down, of a held part [Pa]
      missed_last = 0.0;   ///< and of a missed one [Pa]
  bool stale = false;      ///< the latter stood before the valve and would soon be gone, given a little more time
  /// Vacuum of another threshold that does tell before the part is put down, where this one does not [Pa], and
  std::optional<double> other_threshold,
      other_after;  ///< from touch until it is safe to decide by it [s]
  /// From touch until a decision is safe [s].
  std::optional<double> told() const { return held && missed ? std::optional(std::max(*held, *missed)) : std::nullopt; }
};

/// The set points of a switch, as they are and as they would be best. All of any such switch: its accuracy counts.
struct SwitchPoints {
  double on = 0.0;          ///< it switches on there, rising [Pa]
  double off = 0.0;         ///< and off there, falling [Pa]
  double on_highest = 0.0;  ///< set point up to which held parts are missed no more often than allowed [Pa]
  double off_lowest = 0.0;  ///< switching-off point from which on missed ones pass no more often than allowed [Pa]
  /// Where to set it: least errors with its own hysteresis, or, where that is too wide, with none [Pa]; none: no set
  /// point tells.
  std::optional<double> best_on;
  std::optional<double> most_hysteresis;  ///< with which it still tells there [Pa]; none: as above
  /// Deviations from either state to its set point, were that where both err alike [-], with its own hysteresis or,
  /// where that is too wide wherever it is set, with none.
  double best_separation = 0.0;
  /// Where it does not tell as it is set: how best_on with its own hysteresis, or the widest that tells there, does in
  /// the pick of the file's [cycle]. None: it tells with the line at rest, there is no such set point, or no [cycle].
  std::optional<SensedPick> best_pick;
  /// The hysteresis for best_on: its own, or the widest that tells there [Pa]. Needs a best_on.
  double best_hysteresis() const { return std::min(on - off, *most_hysteresis); }
  /// Whether best_on tells at rest and, where there is a [cycle], in its pick. Where it does not tell as it is set.
  bool best_works() const { return best_on && (!best_pick || best_pick->told()); }
};

/// Whether a sensor tells a held part from a missed one, and why.
struct Sense {
  std::size_t element = 0;  ///< where the sensor is, an index into the line
  std::size_t nozzle = 0;   ///< whose part is to be told, an index into the line
  bool hardest = false;     ///< there are others, none was asked for, and this one is the hardest to tell
  /// Nozzles beyond the sensor's place, whose air all goes by it: of several it can't tell which part is missing [-].
  std::size_t felt = 1;
  Chain chain;                      ///< from the vacuum to counts
  std::vector<SensedState> states;  ///< open, half covered, part, part leaking, blocked
  std::vector<Noise> noises;        ///< with the part on, ripple included
  double noise = 0.0;               ///< all of them, of one decision, rms [Pa]
  double gap_spread = 0.0;          ///< of the held vacuum over the part's gap, one standard deviation [Pa]
  NeighboursFelt neighbours;        ///< and over those of the other nozzles' parts, in both states

  std::string
      why_not_closed;      ///< why the part can't close the nozzle (seat.hpp), so that none is ever held; empty: it can
  bool tells = false;      ///< both error rates within what is allowed: taught, or computed with a switch
  double threshold = 0.0;  ///< vacuum at the sensor with least error [Pa], within what gets through; 0: there is none;
                           ///< with a switch the one at which it is set to switch on
  ChainReading at_threshold;  ///< what that is along the chain
  laws::ErrorRates taught;    ///< with a threshold found on this very build; a switch's set points are exact
  laws::ErrorRates computed;  ///< with this page's threshold on any build: fixed errors and accuracy count
  /// Deviations between each state and the threshold of equal error, taught [-]. With a switch the fewer of those from
  /// open to off and from part to on, its accuracy among them; below 0 on the wrong side.
  double separation = 0.0;
  double share_alive = 0.0;  ///< of builds in which all states from open to blocked come through the amplifier [-]
  /// Part of an empty nozzle's flow that must be lost to read as held [-]; none: never.
  std::optional<double> clogged_looks_held;
  /// From touch until a decision is safe, averaging included [s]; none: never, as always where it does not tell.
  std::optional<double> safe_after;
  /// The same as the [cycle] goes; none without one, where its times don't go together, or where the sensor does not
  /// tell. safe_after itself is that of a nozzle that has drawn air until all was at rest.
  std::optional<SensedPick> pick;
  /// Whether it tells, in the pick of the file's [cycle] too where there is one.
  bool works() const { return tells && (!pick || pick->told()); }
  double averaging_time = 0.0;  ///< that one decision takes [s]; a switch's response
  double best_gain = 0.0;  ///< of the file's own front end [-]; 0: none lets the signal through; 1 for a bare bridge
  std::vector<FrontEndOutcome> front_ends;  ///< one per kind, in the order of line::FrontEnd; none with a switch
  std::vector<SensorPlace> places;          ///< best first
  std::optional<SwitchPoints> points;       ///< none: the sensor is no switch, else chain and gain say nothing
  std::vector<std::string> notes;           ///< what was taken for granted, a sentence each
  /// How the vacuum by which it decides scatters from pick to pick, were there no limits, with nothing on the tip [Pa]
  BoundedScatter open_scatter;
  /// The same with a part.
  BoundedScatter part_scatter;
  /// Of builds in which it tells at rest, each with a threshold found on it [-]; none: not asked, see tell_builds(), or
  /// a switch.
  std::optional<double> share_told;
};

/// Where the sensor of a line that has one branches off, an index into the line. Throws BadInput for a place that is
/// none.
std::size_t sensor_place(const line::Line& line);

/// Will the sensor of the file's [sensor] tell a held part from a missed one? The other nozzles carry their part. With
/// several nozzles and none named, the one that is hardest to tell. `nozzle`: index into the nozzles. Throws BadInput
/// (no [sensor]; no [part]; a place that is none), NoConvergence.
Sense sense(const line::Line& line, std::optional<std::size_t> nozzle = std::nullopt);

/// Finds Sense::share_told of an answer about `line`: what differs from build to build shifts the output towards one
/// limit or the other, where states come out alike though they don't in the build as it is stated. As long as the
/// answer itself takes; apart from it, as no band asks for it.
void tell_builds(const line::Line& line, Sense& sense);

}  // namespace airtally::study
