#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "line/line.hpp"

namespace airtally::line {

/// Whether the part can close a nozzle's mouth.
enum class Seat {
  closed,     ///< nothing that the file says of its size and place speaks against it
  sucked_in,  ///< neither side is longer than the bore
  gaping,     ///< its short side does not span what has to seal: the bore, or the rim where that seals
  beside      ///< it is picked so far off its middle that what has to seal reaches beyond its edge
};
/// "closed", "sucked in", "gaping", "beside".
std::string_view word(Seat seat);

/// The part's sides as one looks down on it.
struct Sides {
  double shorter = 0.0,  ///< [m] > 0
      longer = 0.0;      ///< [m] > 0
};
/// Nothing where the file gives neither; a side that it leaves out is taken to be as long as the other.
std::optional<Sides> sides_of(const Part& part);
/// Diameter of what the part has to close [m]: of the bore, or of the rim where [move] says that it seals. Throws
/// BadInput for seal = "rim" on a nozzle without a rim.
double sealed_diameter(const Line& line, std::size_t nozzle);

/// How the part of the line lies on the nozzle `nozzle`, an index into the line. Without sides the mouth is taken to be
/// closed. The centre of mass is taken to be
/// the part's middle, and its offset to lie along the long side, where the part reaches furthest. Where the rim is to
/// seal and none is given, the bore has to do. The line has a part.
Seat seat_of(const Line& line, std::size_t nozzle);

/// What is wrong with that seat, a clause that begins with "the part" or "picked", names the nozzle and has no full
/// stop; empty where it is closed.
std::string why_not_closed(const Line& line, std::size_t nozzle);

/// The first nozzle's clause of those that the part does not close; empty: it closes all.
std::string why_not_closed(const Line& line);

}  // namespace airtally::line
