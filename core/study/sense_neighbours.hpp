#pragma once
#include <vector>

#include "line/line.hpp"
#include "solve/network.hpp"
#include "solve/steady.hpp"

namespace airtally::study {

/// What the parts on the other nozzles make of the vacuum at every place. Each has a gap of its own, drawn from what
/// the file says of [part] gap whenever one is picked; a sensor on a shared rail feels all of them.
struct Neighbours {
  /// By how much they move its mean, against all of them at the middle of the tolerance, per element [Pa]: what goes by
  /// does not rise as the gap does.
  std::vector<double> shift;
  std::vector<double> spread;  ///< one standard deviation where each gap is its own, per element [Pa]
  std::vector<double> alike;   ///< the same where all of them, as parts of one batch, have the same gap [Pa]
  std::vector<double> reach;   ///< where the gap is a range: what all of them at their ends add either way [Pa]
  std::vector<double> count;   ///< of equals that would scatter as they do together, >= 1 [-]: (sum s2)2/(sum s4)
};

/// Of the state in which `network` is, for the part on `nozzle`, an index into the nozzles. `x` is its solution. The
/// effects of single gaps are added up, those of several together left out. Throws NoConvergence.
Neighbours neighbours_of(const line::Line& line, const solve::Network& network, std::size_t nozzle,
                         const solve::Pressures& x);

}  // namespace airtally::study
