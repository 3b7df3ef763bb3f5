#pragma once
#include <string>
#include <vector>

#include "line/line.hpp"
#include "line/topology.hpp"
#include "report/style.hpp"

/// The shape of a line in text.
namespace airtally::report {

/// One row of an outline.
struct OutlineRow {
  std::size_t element = 0;  ///< index into the line
  std::string branch;       ///< what stands before the name to show the branch it is on: "", "├ ", "│ └ "
};

/// All elements from each source outwards, a branch at a time, each once. Branch signs wider than 24 columns lose
/// their middle.
std::vector<OutlineRow> outline(const line::Topology& topology, const Style& style);

/// The line drawn in words, from each source to its tips, at most `columns` wide: elements in series in one row,
/// branches below one another. A star marks a leak, "(gauge)" a gauge, "(joins ...)" where two ends are merged.
std::string drawing(const line::Line& line, const line::Topology& topology, const Style& style,
                    std::size_t columns = 80);

}  // namespace airtally::report
