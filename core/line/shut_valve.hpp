#pragma once
#include <optional>

#include "line/topology.hpp"

namespace airtally::line {

/// The valve nearest to `element` on its way to its source that stands closed or at vent; both indices into the line.
/// None: the way is open. In a loop air may come another way. `topology` is that of the line.
std::optional<std::size_t> shut_valve(const Line& line, const Topology& topology, std::size_t element);

/// The same for the first nozzle that has one.
std::optional<std::size_t> shut_valve(const Line& line);

}  // namespace airtally::line
