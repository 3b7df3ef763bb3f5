#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "line/line.hpp"

/// In which order the moments of a pick come, and what stands for those that the file leaves out.
namespace airtally::line {

/// A moment of a pick, as [cycle] names it.
enum class Moment {
  valve_on,  ///< command to the valve before the nozzle
  touch,     ///< the nozzle meets the part
  lift,      ///< the part leaves what it lay on
  travel,    ///< sideways moves begin
  place,     ///< the part stands again
  release,   ///< command to let go
  retract,   ///< the nozzle leaves the part
  pump_off,  ///< a switched pump stops
  period     ///< the cycle begins anew
};
/// Its key in the file: "valve-on".
std::string_view key(Moment moment);

/// When it is [s]; nullptr where the file leaves it out.
const Quantity* when(const Cycle& cycle, Moment moment);
/// The same, to be changed.
Quantity* when(Cycle& cycle, Moment moment);

/// What lets a head go: the release, else the place; but a head without a valve on its way to the pump is let go by the
/// pump's stop where that is given and the release is not.
Moment letting_go(const Cycle& cycle, bool valve);

/// The valve that a nozzle hangs on, the first on its way to the source; both are indices into the line. None: there is
/// none. Of a line whose names lead nowhere it follows what it can.
std::optional<std::size_t> valve_of(const Line& line, std::size_t nozzle);

/// Two moments, both of which the cycle has, that must come one after the other.
struct InOrder {
  Moment earlier = Moment::touch;  ///< the one that comes first
  Moment later = Moment::place;    ///< the one that comes after it
  double apart = 0.0;              ///< the later one comes this much after, at least [s]
  /// An index into the line. With `later` the period: it must have closed before it opens for the next pick; with any
  /// other: it must have opened before it closes. None: the order is the pick's own.
  std::optional<std::size_t> valve = {};
};

/// All that must come in order, so that whoever goes through the list, and has later ones wait for earlier ones, has
/// them all in order at its end. Empty without [cycle].
std::vector<InOrder> order_of_pick(const Line& line);

}  // namespace airtally::line
