#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "solve/network.hpp"
#include "units/quantity.hpp"

/// From a few readings to the culprit: what was done at the bench, what the line may hide, and what follows.
namespace airtally::hunt {

/// What an instrument reads.
enum class Instrument {
  vacuum,   ///< a gauge, at the element that carries it [Pa below ambient]
  plugged,  ///< a loose gauge in what blocks the capped end, one and the same wherever it is put [Pa below ambient]
  current,  ///< a source's ammeter [A]
  flow,     ///< free air that a source takes [kg/s]
  inflow    ///< what leaks into what `at` has shut off, at leak_vacuum() [kg/s]: a decay log
};

/// Whether it reads a vacuum [Pa below ambient].
inline bool is_gauge(Instrument instrument) {
  return instrument == Instrument::vacuum || instrument == Instrument::plugged;
}

/// What was done to the line before reading.
struct Setting {
  std::optional<std::size_t> cap;     ///< everything beyond this element is off, its tip-side end is blocked
  double hole = 0.0;                  ///< diameter of the drilled hole in what blocks the end [m]; 0: none
  std::vector<solve::TipState> tips;  ///< one per nozzle of the line; those that are off do not count
  /// Where branches of the line begin that were taken off, in line order: each element with everything beyond it; the
  /// opening that it left is blocked.
  std::vector<std::size_t> off = {};

  /// Whether both are the same setting.
  bool operator==(const Setting&) const = default;
};

/// One number read off one instrument.
struct Reading {
  Setting setting;                             ///< what was done to the line
  Instrument instrument = Instrument::vacuum;  ///< what was read
  /// Element that carries the gauge, or the source, or what shut, or is capped with the gauge: an index into the line.
  std::size_t at = 0;
  double value = 0.0;  ///< [Pa], [A] or [kg/s], as `instrument` says
  double noise = 0.0;  ///< its own standard deviation, in the same unit; 0: its instrument's
  Position where;      ///< in the readings file
};

/// How well an instrument reads. Accuracy and repeatability are two standard deviations.
struct Meter {
  /// Shared by all its readings: [Pa], [A]; of a flow meter a share of the reading [-]; 0: not known.
  double accuracy = 0.0;
  double repeatability = 0.0;  ///< of each reading by itself [Pa], [A], [kg/s]; 0: not known
  double resolution = 0.0;     ///< step of the display [Pa], [A], [kg/s]; 0: not known

  /// Standard deviation of one reading about what the instrument would show on the average: rounding to the display's
  /// step (uniform, step/sqrt(12)) and repeatability [Pa], [A], [kg/s].
  double noise() const;
};

/// The instruments of a bench where the line file does not describe them.
struct Bench {
  std::optional<Meter> gauge;         ///< overrides nothing: for gauges of the line without accuracy or resolution
  std::optional<Meter> ammeter;       ///< of every source; none: common practice, see meter_at()
  std::optional<Meter> flow_meter;    ///< of every source; none: the same
  std::optional<Meter> plug_gauge;    ///< the loose one that goes into a plug; none: there is none
  double gauge_repeatability = -1.0;  ///< of every gauge [Pa], two standard deviations; < 0: its resolution
  /// Diameters of the holes of the drilled plates at hand [m] > 0; none given: the usual drills, and what was read
  /// with.
  std::optional<std::vector<double>> plates;
  /// Discharge coefficient of the drilled plates' holes [-], above 0 to 1; none: common practice, see plate_prior().
  std::optional<units::Quantity> discharge;
};

/// The meter that stands at element `at`, an index into the line. What is not stated is taken from common practice (no
/// source): a gauge, loose or not, is good to 1 kPa and shows 0.1 kPa; an ammeter is good to 2 % of the curve's highest
/// current and shows 0.2 % of it; a flow meter is good to 3 % of the reading and shows 0.1 % of the source's free flow.
/// A reading repeats within one step. A log has no meter: all 0.
Meter meter_at(const line::Line& line, const Bench& bench, Instrument instrument, std::size_t at);

/// What a readings file holds.
struct Readings {
  std::vector<Reading> list;         ///< in the order of the files
  Bench bench;                       ///< the instruments, as the files have them
  std::vector<std::string> remarks;  ///< sentences on what else may have made what a log shows
};

}  // namespace airtally::hunt
