#pragma once
#include <optional>
#include <string>
#include <vector>

#include "gas/site.hpp"
#include "line/element.hpp"

namespace airtally::line {

/// What the nozzle picks.
struct Part {
  std::string name;
  Quantity mass = 0;                              ///< [kg]
  Quantity gap = 0;                               ///< between part and rim [m]
  std::optional<RatedLeak> porosity;              ///< air through the part itself
  std::optional<Quantity> length, width, height;  ///< [m]
  Position where;
};

/// A whole line as described: the truth that every command starts from.
struct Line {
  std::string title;
  std::string file;
  gas::Site site;
  std::vector<Element> elements;  ///< in the order written
  std::optional<Part> part;
  std::vector<std::string> assumed;  ///< about the line as a whole
};

/// Index of the element of that name, if there is one.
std::optional<std::size_t> find(const Line& line, std::string_view name);
/// Indices of all elements of that kind, in line order.
std::vector<std::size_t> all_of(const Line& line, Kind kind);

}  // namespace airtally::line
