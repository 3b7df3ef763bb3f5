#pragma once
#include <span>
#include <vector>

#include "solve/network.hpp"

namespace airtally::study {

/// What the tips are in when ranked by hold: as asked, or with a part on all where none was to have one on.
std::vector<solve::TipState> holding_tips(std::span<const solve::TipState> asked);

}  // namespace airtally::study
