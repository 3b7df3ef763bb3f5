#include "line/line.hpp"

namespace airtally::line {

std::optional<std::size_t> find(const Line& line, std::string_view name) {
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].name == name) return i;
  return std::nullopt;
}

Line carried_to(Line line, double pressure) {
  const auto keep = [&](RatedLeak& leak) {
    if (!leak.ambient) leak.ambient = line.site.pressure;
  };
  for (Element& element : line.elements)
    for (Leak& leak : element.leaks)
      if (auto* rated = std::get_if<RatedLeak>(&leak)) keep(*rated);
  if (line.part && line.part->porosity) keep(*line.part->porosity);
  line.site.pressure = pressure;
  return line;
}

std::vector<std::size_t> all_of(const Line& line, Kind kind) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].kind == kind) found.push_back(i);
  return found;
}

}  // namespace airtally::line
