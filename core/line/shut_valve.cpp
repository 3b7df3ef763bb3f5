#include "line/shut_valve.hpp"

namespace airtally::line {

std::optional<std::size_t> shut_valve(const Line& line, const Topology& topology, std::size_t element) {
  for (std::size_t i = element; i != none; i = topology.before[i]) {
    const auto& valve = line.elements[i].valve;
    if (valve && valve->state != ValveState::open) return i;
  }
  return std::nullopt;
}

std::optional<std::size_t> shut_valve(const Line& line) {
  const Topology topology = line::topology(line);
  for (const std::size_t nozzle : all_of(line, Kind::nozzle))
    if (const auto shut = shut_valve(line, topology, nozzle)) return shut;
  return std::nullopt;
}

}  // namespace airtally::line
