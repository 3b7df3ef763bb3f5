#pragma once
#include <cstdint>
#include <functional>
#include <vector>

#include "line/line.hpp"
#include "solve/network.hpp"

namespace airtally::support {

struct Wildness {
  bool loops = true;      ///< now and then ends of branches are merged
  bool vents = true;      ///< valves may be closed or blow off
  std::size_t most = 60;  ///< elements at most, about
};

/// A valid line with everything that may go wrong in one: bores from 0.1 to 20 mm, leaks over eight decades, pumps from
/// 0.05 to 200 L/min, blind branches, check valves, closed and blowing valves. The same for a seed on every machine.
line::Line random_line(std::uint64_t seed, const Wildness& wildness = {});

/// The same with any other source of numbers in [0, 1): one that a fuzzer steers makes it a fuzzer of lines.
line::Line random_line(const std::function<double()>& uniform, const Wildness& wildness = {});

/// A state per nozzle, open, part or blocked with equal chance.
std::vector<solve::TipState> random_states(std::uint64_t seed, std::size_t nozzles);

}  // namespace airtally::support
