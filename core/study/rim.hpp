#pragma once
#include <cstddef>

#include "laws/holding.hpp"
#include "line/line.hpp"

namespace airtally::study {

/// What a nozzle holds the part by: its rim as far as the part covers it, the area that the vacuum is counted on, and
/// the friction of `move`. `at`: an index into the line, of a nozzle that has a bore. The line must have a [part].
/// Throws std::bad_variant_access where there is no bore.
laws::Grip grip_of(const line::Line& line, std::size_t at, const line::Move& move);

/// Of the force that a nozzle is counted to hold with, what is left where air creeps in under its rim [-], above 0 to
/// 1: 1 unless the vacuum is counted on the whole rim (seal = "rim") and the gap under the part may be open. `nozzle`:
/// an index into the line. The pressure falls with the logarithm of the radius from the outer edge to the bore
/// (Poiseuille between plates; Hamrock, Fundamentals of Fluid Film Lubrication, hydrostatic step bearing with pocket;
/// from memory). 1 without a [part].
double creeping_share(const line::Line& line, std::size_t nozzle);

}  // namespace airtally::study
