#pragma once
#include <string>

#include "line/line.hpp"
#include "study/rank.hpp"

namespace airtally::report {

/// A change worth a try before anything is bought, as --set takes it: half the leak of the element that costs the tip
/// most, or half as much again of its bore, conductance or rated flow, whichever of the two gains more: "rotary
/// joint.leak.clearance=20 um". The next in the ranking where the file does not describe it by one number of that kind
/// or it is a nozzle's bore; "" where there is none.
std::string trial_change(const line::Line& line, const study::Ranking& ranking);

}  // namespace airtally::report
