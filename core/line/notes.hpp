#pragma once
#include <optional>
#include <string>
#include <vector>

#include "errors.hpp"
#include "units/quantity.hpp"

namespace airtally::line {

/// What was written down at the bench, as a readings file says it: plain data, names not yet looked up in a line.
struct Note {
  enum class Of { vacuum, current, flow };

  std::string cap;                ///< element behind which the line was capped; empty: whole
  double hole = 0.0;              ///< diameter of the drilled hole in the cap [m]; 0: none
  std::vector<std::string> tips;  ///< "open", "part", "blocked", or "nozzle 2=open"; empty: as usual
  std::string at;                 ///< element that carries the instrument; empty: the file's, else the line's first
  Of of = Of::vacuum;
  double value = 0.0;  ///< [Pa] below ambient, [A] or [kg/s]
  Position where, cap_at, tip_at, at_at;
};

/// What an instrument's maker or its owner says of it.
struct NoteMeter {
  double accuracy =
      0.0;  ///< two standard deviations: [Pa], [A], of a flow meter a share of the reading [-]; 0: none given
  double resolution = 0.0;      ///< [Pa], [A], [kg/s]; 0: none given
  double repeatability = -1.0;  ///< two standard deviations [Pa], [A], [kg/s]; < 0: none given
};

struct Notes {
  std::string file;
  std::string line;  ///< the line file as the readings file names it; empty: not named
  Position line_at;
  std::string gauge;  ///< element whose gauge was read where a reading does not say
  Position gauge_at;
  std::optional<NoteMeter> gauge_meter, ammeter, flow_meter;
  std::vector<Note> list;
  int blanks = 0;  ///< readings left blank
};

}  // namespace airtally::line
