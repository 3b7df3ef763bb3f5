#pragma once
#include <cstddef>
#include <limits>
#include <vector>

#include "line/line.hpp"

namespace airtally::line {

/// An index that points at nothing.
inline constexpr std::size_t none = std::numeric_limits<std::size_t>::max();

/// How the elements hang together. Every element has one tip-side end; all but the sources start at the end of another.
struct Topology {
  std::vector<std::size_t> before;  ///< per element: the one at whose end it starts; `none` for sources
  std::vector<std::size_t> joined;  ///< per element: the one with whose end its own is merged; `none` for all others
  std::vector<std::vector<std::size_t>> beyond;  ///< per element: those that start at its end, in line order
  std::vector<std::size_t> place;                ///< per element: its place; ends with nothing between them share one
  std::size_t places = 0;                        ///< number of places
  std::vector<std::size_t> sharing;              ///< per place: how many ends share it
};

/// Checks the line as a graph and says how it hangs together.
///
/// Throws BadInput with every complaint, in file order: no element, no source, no nozzle; a name twice; `after` or
/// `joins` naming nothing, itself, or going in a circle; something after a nozzle or a plug, or joined to one; a part
/// of the line that no source reaches; a loop of tees and joins with no restriction in it. `need_nozzle` = false allows
/// a line without one, such as what is left of a line that is capped.
Topology topology(const Line& line, bool need_nozzle = true);

}  // namespace airtally::line
