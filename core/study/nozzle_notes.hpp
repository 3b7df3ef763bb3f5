#pragma once
#include <string>
#include <utility>
#include <vector>

#include "line/line.hpp"

namespace airtally::study {

/// Notes about nozzles, of which many may deserve the same: it is then said once, of all of them.
class NozzleNotes {
 public:
  /// Stands in a note for "nozzle 'NAME'", or "each of nozzles ..." where it holds for several.
  static constexpr const char* who = "\1";

  /// A note about `nozzle`, an index into the line.
  void add(std::size_t nozzle, const std::string& note);
  /// All of them in the order in which each was first made.
  std::vector<std::string> sentences(const line::Line& line) const;

 private:
  std::vector<std::pair<std::string, std::vector<std::size_t>>> notes_;
};

/// That every nozzle is taken to carry a part of its own, and how to ask about one that several share; empty for a line
/// with one nozzle. The line has a part.
std::string own_parts_note(const line::Line& line);

}  // namespace airtally::study
