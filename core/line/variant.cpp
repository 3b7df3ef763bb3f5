#include "line/variant.hpp"

#include <numbers>

namespace airtally::line {

bool restricts(const Element& element) { return !std::holds_alternative<std::monostate>(element.restriction); }

double bore_volume(const Element& element) {
  const Bore* bore = std::get_if<Bore>(&element.restriction);
  return bore ? std::numbers::pi / 4 * bore->bore.value * bore->bore.value * bore->length.value : 0.0;
}

void seal(Element& element) { element.leaks.clear(); }

void bore_out(Element& element) {
  element.volume = Quantity(element.volume.value + bore_volume(element));
  element.restriction = std::monostate{};
}

Capped cap(const Line& line, const Topology& topology, std::size_t element) {
  const std::size_t n = line.elements.size();
  Capped capped{line, std::vector<std::size_t>(n, none)};
  if (line.elements[element].kind == Kind::nozzle) {
    for (std::size_t i = 0; i < n; ++i) capped.index[i] = i;
    return capped;
  }

  // The end that a merged end is still fed from, if there is one.
  std::size_t partner = topology.joined[element];
  for (std::size_t i = 0; i < n && partner == none; ++i)
    if (topology.joined[i] == element) partner = i;

  std::vector<bool> off(n, false);
  if (partner == none) {
    std::vector<std::size_t> stack = topology.beyond[element];
    while (!stack.empty()) {
      const std::size_t i = stack.back();
      stack.pop_back();
      if (off[i]) continue;
      off[i] = true;
      stack.insert(stack.end(), topology.beyond[i].begin(), topology.beyond[i].end());
    }
  }

  capped.line.elements.clear();
  for (std::size_t i = 0; i < n; ++i) {
    if (off[i]) continue;
    Element e = line.elements[i];
    // "The one before it in the list" may be gone: say by name where this one starts.
    const std::size_t before = topology.before[i] == element && partner != none ? partner : topology.before[i];
    if (before != none) e.after = line.elements[before].name;
    const std::size_t joined = topology.joined[i];
    if (joined != none && (i == element || joined == element || off[joined])) e.joins.clear();
    capped.index[i] = capped.line.elements.size();
    capped.line.elements.push_back(std::move(e));
  }
  return capped;
}

}  // namespace airtally::line
