#pragma once
#include <vector>

#include "line/line.hpp"

namespace airtally::study {

/// How many pieces each element's bore is cut into, so that pressure may vary along it: `segments` for bores longer
/// than ten times their width, 1 for all else and for nozzles. One count per element.
std::vector<int> cut(const line::Line& line, int segments);

}  // namespace airtally::study
