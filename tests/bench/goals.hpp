#pragma once
#include <vector>

#include "curves.hpp"

namespace airtally::bench {

/// What was aimed at and what was reached, from the medians, as a Markdown table on stdout.
void goals(const std::vector<Row>& rows);

}  // namespace airtally::bench
