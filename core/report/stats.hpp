#pragma once
#include <optional>
#include <string>

#include "solve/tally.hpp"

/// What an answer took.
namespace airtally::report {

/// Work and time of one command.
struct Took {
  solve::WorkSum work;  ///< of the solvers
  double read = 0.0,    ///< reading and checking the files [s]
      study = 0.0,      ///< working out the answer [s]
      report = 0.0;     ///< writing it down [s]
};

/// For people: a row for each number.
std::string stats_text(const Took& took);

/// A command's JSON with the numbers under the key "stats"; none when `json` is not one object. All but `time_s` are
/// the same whenever the same is asked.
std::optional<std::string> with_stats(const std::string& json, const Took& took);

}  // namespace airtally::report
