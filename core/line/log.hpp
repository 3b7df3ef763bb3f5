#pragma once
#include <string>
#include <vector>

#include "errors.hpp"

namespace airtally::line {

/// Where a value of a log stands in its file, both from 1.
struct LogPlace {
  int line = 0;    ///< row of the file
  int column = 0;  ///< its first character
};

/// A recorded course of vacuum at one place.
struct Log {
  std::string file;                ///< for sentences
  std::vector<double> time;        ///< [s], rising strictly, as recorded: it need not begin at 0
  std::vector<double> vacuum;      ///< below the site's ambient [Pa], less than it, one per time
  double step = 0.0;               ///< of the last digit that its vacuums were written with [Pa]; 0: not known
  std::vector<LogPlace> places;    ///< of each vacuum in the file; empty: made in code
  std::size_t gaps = 0;            ///< rows left out because a cell was empty
  std::vector<std::string> notes;  ///< how the columns were understood, where that was not plain
};

/// Rows that a decay needs, from its deepest vacuum on: twice as many as the unknowns of a leak's course, and one.
inline constexpr std::size_t fewest_decay_rows = 5;

/// Where the vacuum of that row stands; the file alone where the log was made in code.
inline Position place_of(const Log& log, std::size_t row) {
  if (row >= log.places.size()) return {log.file, 0, 0};
  return {log.file, log.places[row].line, log.places[row].column};
}

}  // namespace airtally::line
