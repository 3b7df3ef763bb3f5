#pragma once
#include <optional>
#include <string>
#include <vector>

#include "errors.hpp"
#include "line/log.hpp"
#include "units/quantity.hpp"

namespace airtally::line {

/// What was written down at the bench, as a readings file says it: plain data, names not yet looked up in a line.
struct Note {
  /// What was read.
  enum class Of {
    vacuum,   ///< of a gauge
    plugged,  ///< vacuum, of a loose gauge in what blocks the capped end
    current,  ///< of a source's motor
    flow,     ///< that a source takes
    decay,    ///< a log: how what was shut off lost its vacuum
    rise      ///< a log: how the vacuum came, until it stood still
  };

  std::string cap;                ///< element behind which the line was capped; empty: whole
  double hole = 0.0;              ///< diameter of the drilled hole in the cap [m] > 0; 0: none, or no cap
  std::vector<std::string> off;   ///< elements that branches begin with which were taken off; empty: none
  std::vector<std::string> tips;  ///< "open", "part", "blocked", or "nozzle 2=open"; empty: as usual
  std::string at;                 ///< element that carries the instrument; empty: the file's, else the line's first
  Of of = Of::vacuum;             ///< the instrument, by what it reads
  double value = 0.0;             ///< [Pa] below ambient, [A] or [kg/s]; as written, even where it can't be true
  double deviation = 0.0;         ///< standard deviation written with it, of the same unit >= 0; 0: none
  std::string log_file;           ///< of a log: as the readings file names it; empty: none
  std::optional<Log> log;         ///< what that file holds, once it is read
  std::string shut;               ///< element that shut the pump off for a decay; empty: as shut_off() finds it
  std::optional<units::Quantity> volume;  ///< that was shut off [m3] > 0; none: by the line file
  double drift = 0.0;  ///< of temperature over a decay, two standard deviations [K] >= 0; 0: not stated
  Position where,      ///< of the reading
      cap_at,          ///< of `cap`
      off_at,          ///< of `off`
      tip_at,          ///< of `tips`
      at_at,           ///< of `at`
      log_at,          ///< of `log_file`
      shut_at;         ///< of `shut`
};

/// What an instrument's maker or its owner says of it.
struct NoteMeter {
  /// Two standard deviations [Pa], [A] >= 0, of a flow meter a share of the reading [-]; 0: none given.
  double accuracy = 0.0;
  double resolution = 0.0;      ///< [Pa], [A], [kg/s]; 0: none given
  double repeatability = -1.0;  ///< two standard deviations [Pa], [A], [kg/s]; < 0: none given
};

/// A readings file.
struct Notes {
  std::string file;                      ///< its name, for sentences
  std::string line;                      ///< the line file as the readings file names it; empty: not named
  Position line_at;                      ///< of that name
  std::string gauge;                     ///< element whose gauge was read where a reading does not say
  Position gauge_at;                     ///< of that name
  std::optional<NoteMeter> gauge_meter,  ///< of the gauges; none: as the line file says
      ammeter,                           ///< none given: none
      flow_meter,                        ///< the same
      plug_gauge;                        ///< the loose gauge's; none: none given
  /// Diameters of the drilled plates' holes that are at hand [m] > 0; none given: not said.
  std::optional<std::vector<double>> plates;
  std::optional<units::Quantity> discharge;  ///< of these holes [-], 0.1 to 1; none: not said
  std::vector<Note> list;                    ///< those that say something, in file order
  int blanks = 0;                            ///< readings left blank
};

}  // namespace airtally::line
