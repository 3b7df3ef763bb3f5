#pragma once
#include <vector>

#include "hunt/readings/reading.hpp"
#include "line/topology.hpp"
#include "solve/network.hpp"

namespace airtally::hunt {

/// A line as it is in a setting: what is off is gone.
struct Cut {
  line::Line line;                    ///< what is left; a drilled plate is one more leak of the element it closes
  std::vector<std::size_t> index;     ///< per element of the whole line: its index here, or line::none
  std::vector<solve::TipState> tips;  ///< one per nozzle that is left
  std::size_t plate = static_cast<std::size_t>(-1);  ///< the element whose last leak is the drilled hole, or line::none
  double hole = 0.0;                                 ///< diameter of that one's hole [m]; 0: there is none
};

/// `topology` is that of `line`. Throws BadInput when the setting is no sound line.
Cut cut(const line::Line& line, const line::Topology& topology, const Setting& setting);

/// The same setting in the one way in which it is compared with others: a tip that is off the line counts as blocked;
/// the one of several tips that is blocked is capped, and capped tips of which all or more than one are blocked are
/// tips in that state; what all goes on from an element taken off is the line capped behind it. Throws BadInput as
/// cut() does.
Setting as_compared(const line::Line& line, const line::Topology& topology, Setting setting);

/// It as a network. The plate's hole is air that is let in on purpose: no leak of its element but a seal.
solve::Network network_of(const Cut& cut);

/// The path of the plate's hole in that network; -1: there is none.
int plate_path(const solve::Network& network, const Cut& cut);

}  // namespace airtally::hunt
