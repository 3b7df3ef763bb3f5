#include "line/line.hpp"

namespace airtally::line {

std::optional<std::size_t> find(const Line& line, std::string_view name) {
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].name == name) return i;
  return std::nullopt;
}

std::vector<std::size_t> all_of(const Line& line, Kind kind) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].kind == kind) found.push_back(i);
  return found;
}

}  // namespace airtally::line
