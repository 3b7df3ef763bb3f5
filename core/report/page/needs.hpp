#pragma once
#include <vector>

#include "line/line.hpp"
#include "report/page/plot.hpp"
#include "study/cycle.hpp"

namespace airtally::report::page {

/// What the heads of a pick need to lift and to travel: a level for every need, the highest first, heads that need the
/// same together. Words that would lie on another line stand together above the upper one, in the order of the lines.
/// `deepest`: the highest vacuum of the plot [Pa].
std::vector<Level> needs(const line::Line& line, const study::CycleAnswer& cycle, double deepest);

}  // namespace airtally::report::page
