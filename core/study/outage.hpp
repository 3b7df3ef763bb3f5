#pragma once
#include <optional>
#include <span>
#include <vector>

#include "solve/line_system.hpp"
#include "study/hold.hpp"
#include "study/standstill.hpp"

namespace airtally::study {

/// How long one nozzle holds its part once the vacuum fails.
struct TipOutage {
  std::size_t element = 0;  ///< index into the line
  /// Until it has less than its moves need, with their safety [s]; none: not within `longest_outage`.
  std::optional<double> moves;
  /// Until it has less than carries the part's bare weight: it drops [s]; none: not within `longest_outage`.
  std::optional<double> weight;
};

/// What becomes of the held parts when every source stops and the valves stay as they stand.
struct Outage {
  WayBack way = WayBack::shut;  ///< what is taken of a source without a `back-leak`
  std::vector<TipOutage> tips;  ///< those that hold their part, in line order
};

/// An outage is not watched longer than that [s].
inline constexpr double longest_outage = 3600.0;

/// Stops every source of a line at rest, with the part on at the worst gap, and waits until the parts drop. `held` is
/// hold() of the same line and tips. `thermal`: how air and walls exchange heat. Empty where no tip holds its part.
/// A nozzle whose part has dropped is open from then on.
/// With one entry where the file states every source's way back, else with two, the longer first: nothing comes back,
/// and the port is open. Times are right to a few per cent (a gas column's inertia and the valves' own delay are left
/// out). Throws BadInput, NoConvergence. Tested by tests/study/outage_test.cpp.
std::vector<Outage> outages(const line::Line& line, const Hold& held, solve::Thermal thermal = solve::Thermal::wall);

}  // namespace airtally::study
