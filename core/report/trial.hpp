#pragma once
#include <cstddef>
#include <optional>
#include <string>

#include "line/line.hpp"
#include "study/rank.hpp"

namespace airtally::report {

/// The valve, an index into the line, that alone is why the tip has no vacuum: it stands closed or at vent, and nothing
/// that is mended elsewhere brings any. None: no valve is.
std::optional<std::size_t> valve_to_open(const study::Ranking& ranking);

/// Whether what costs the tip most does so by restricting, so that it shows where air flows and not with the end
/// blocked. Never where a valve is to be opened first.
bool shows_in_flow_alone(const study::Ranking& ranking);

/// A change worth a try before anything is bought, as --set takes it: half the leak of the element that costs the tip
/// most, or half as much again of its bore, conductance or rated flow (of a check valve of whose drop the most is that,
/// half its cracking pressure), whichever of the two gains more: "rotary
/// joint.leak.clearance=20 um". The next in the ranking where the file does not describe it by one number of that kind
/// or it is a nozzle's bore; "" where there is none. Where a valve is to be opened first, that: "valve.state=open".
std::string trial_change(const line::Line& line, const study::Ranking& ranking);

/// What to try, and with what.
struct Trial {
  std::string change;   ///< as --set takes it; "" where there is none
  std::string command;  ///< that tells whether it is enough: "rank" or "hold"
  std::string why;      ///< what it tries where that is not the element that costs the tip most; "" else
};

/// The change worth a try, as the ranking's verdict has it: where no repair is enough, a larger bore of the nozzle or
/// gentler moves; where most air comes in under the part, half its gap; else trial_change().
Trial trial(const line::Line& line, const study::Ranking& ranking);

}  // namespace airtally::report
