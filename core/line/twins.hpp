#pragma once
#include <vector>

#include "line/topology.hpp"

namespace airtally::line {

/// Branches that could change places and nobody would know but by their names. Per branch its elements, indices into
/// the line, itself first and each before what hangs behind it; what stands in the same place in two of them
/// corresponds.
using Twins = std::vector<std::vector<std::size_t>>;

/// All such, two or more each: they begin at the end of the same element, and the file describes them alike, element by
/// element (as differences() counts). What is joined to anything else has no twin. `topology` is the line's.
std::vector<Twins> twins(const Line& line, const Topology& topology);

}  // namespace airtally::line
