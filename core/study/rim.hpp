#pragma once
#include "line/line.hpp"

namespace airtally::study {

/// Of the force that a nozzle is counted to hold with, what is left where air creeps in under its rim [-], above 0 to
/// 1: 1 unless the vacuum is counted on the whole rim (seal = "rim") and the gap under the part may be open. `nozzle`:
/// an index into the line. The pressure falls with the logarithm of the radius from the outer edge to the bore
/// (Poiseuille between plates; Hamrock, Fundamentals of Fluid Film Lubrication, hydrostatic step bearing with pocket;
/// from memory). 1 without a [part].
double creeping_share(const line::Line& line, std::size_t nozzle);

}  // namespace airtally::study
