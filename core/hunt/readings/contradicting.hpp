#pragma once
#include <string>
#include <vector>

#include "hunt/readings/reading.hpp"

namespace airtally::hunt {

/// A sentence for each pair of readings that can't both be right, the widest apart first: Contradiction. `tips`: one
/// state per nozzle. Throws BadInput when the line is not sound, NoConvergence. Tested by
/// tests/hunt/contradicting_test.cpp.
std::vector<std::string> contradicting(const line::Line& line, const Readings& readings,
                                       const std::vector<solve::TipState>& tips);

}  // namespace airtally::hunt
