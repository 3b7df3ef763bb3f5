#pragma once
#include <optional>
#include <string>
#include <vector>

#include "hunt/beliefs/unknowns.hpp"
#include "solve/network.hpp"

namespace airtally::agreement {

/// What is wrong with a line.
struct Plant {
  line::Line line;
  hunt::Suspects suspects;
  std::vector<double> values;
  std::vector<std::size_t> culprits;  ///< one or two elements
  std::size_t unknown = 0;            ///< that was planted first
  std::vector<solve::TipState> tips;  ///< in which the tips' loss counts
  /// Elements in which a fault that costs the tips as much would move no reading by more than the instruments scatter:
  /// no one who has only these can tell them from the culprit.
  std::vector<std::size_t> twins;
  std::string name;
};

/// Diameter of the hole in the drilled plate of the removal tests [m].
inline constexpr double plate = 0.8e-3;

/// The invented line of case number `c`.
std::string line_of(int c);

/// Case number `c`: goes round all lines and all their elements, leaks, seals and, one in four, blockages, one in eight
/// with a second culprit. None where such a fault can't cost the tip as much or isn't the worst that is wrong.
/// `gauge_at_source`: as a removal test is done, with a gauge that stays on the line whatever is capped.
std::optional<Plant> make_plant(int c, std::uint64_t seed, const hunt::Bench& bench, bool gauge_at_source);

}  // namespace airtally::agreement
