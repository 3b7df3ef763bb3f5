#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "line/line.hpp"
#include "solve/network.hpp"

namespace airtally::study {

/// Whether the part can close a nozzle's mouth.
enum class Seat {
  closed,     ///< nothing that the file says of its size and place speaks against it
  sucked_in,  ///< neither side is longer than the bore
  gaping,     ///< its short side does not span what has to seal: the bore, or the rim where that seals
  beside      ///< it is picked so far off its middle that what has to seal reaches beyond its edge
};
/// "closed", "sucked in", "gaping", "beside".
std::string_view word(Seat seat);

/// Diameter of what the part has to close [m]: of the bore, or of the rim where [move] says that it seals. Throws
/// BadInput for seal = "rim" on a nozzle without a rim.
double sealed_diameter(const line::Line& line, std::size_t nozzle);

/// How the part of the line lies on the nozzle `nozzle`, an index into the line. A side that the file leaves out is
/// taken to be as long as the other; with neither, the mouth is taken to be closed. The centre of mass is taken to be
/// the part's middle, and its offset to lie along the long side, where the part reaches furthest. The line has a part.
/// Throws as sealed_diameter().
Seat seat_of(const line::Line& line, std::size_t nozzle);

/// What is wrong with that seat, a clause that begins with "the part" or "picked", names the nozzle and has no full
/// stop; empty where it is closed. Throws as seat_of().
std::string why_not_closed(const line::Line& line, std::size_t nozzle);

/// The first nozzle's clause of those that the part does not close; empty: it closes all.
std::string why_not_closed(const line::Line& line);

/// The state of every tip once its head has come down on the part: with the part where it closes the mouth, open where
/// it does not.
std::vector<solve::TipState> seated_tips(const line::Line& line);

}  // namespace airtally::study
