#include "study/segments.hpp"

namespace airtally::study {

std::vector<int> cut(const line::Line& line, int segments) {
  std::vector<int> counts(line.elements.size(), 1);
  for (std::size_t i = 0; i < counts.size(); ++i) {
    const auto* bore = std::get_if<line::Bore>(&line.elements[i].restriction);
    if (bore && line.elements[i].kind != line::Kind::nozzle && bore->length.value > 10.0 * bore->bore.value)
      counts[i] = segments;
  }
  return counts;
}

}  // namespace airtally::study
