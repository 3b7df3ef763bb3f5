#pragma once
#include <span>
#include <vector>

#include "hunt/readings/reading.hpp"
#include "line/line.hpp"

namespace airtally::hunt {

/// Elements that neither the line file nor the readings treat otherwise than each other, such as the needles of a
/// manifold that was only ever read with all of them in the same state: what is believed of one is believed of all.
/// Groups of two or more, indices into the line, in line order. `tips`: the state in which costs are counted.
std::vector<std::vector<std::size_t>> alike(const line::Line& line, std::span<const Reading> readings,
                                            const std::vector<solve::TipState>& tips);

}  // namespace airtally::hunt
