#pragma once
#include <string>
#include <vector>

#include "hunt/readings/reading.hpp"

namespace airtally::hunt {

/// A reading that no state of the line could give, and why.
struct Impossible {
  Reading reading;       ///< as it was read
  std::string sentence;  ///< why, and what it may have been
};

/// Takes the impossible ones out of `readings`: deeper than the source can pull by more than the gauge's error,
/// negative, a current or flow far outside the source's curve, an absolute pressure taken for a vacuum. Returns them.
std::vector<Impossible> set_aside_impossible(const line::Line& line, const Bench& bench,
                                             std::vector<Reading>& readings);

}  // namespace airtally::hunt
