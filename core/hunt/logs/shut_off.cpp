#include "hunt/logs/shut_off.hpp"

#include "hunt/fit/shut_leak.hpp"
#include "line/variant.hpp"
#include "solve/answer.hpp"

namespace airtally::hunt {
namespace {

double volume(const line::Line& line, const line::Topology& topology) {
  double sum = 0.0;
  for (const solve::Node& node : solve::Network(line, topology, solve::all_tips(line, solve::TipState::blocked)).nodes)
    sum += node.volume;
  return sum;
}

}  // namespace

std::size_t shut_off(const line::Line& line) {
  std::size_t source = 0;
  for (std::size_t i = line.elements.size(); i-- > 0;)
    if (line::is_source(line.elements[i].kind)) source = i;
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].kind == line::Kind::check_valve) return i;
  return source;
}

double shut_volume(const line::Line& line, std::size_t element) {
  // Capped, a line may have no nozzle left, and is sound all the same.
  const line::Topology topology = line::topology(line, false);
  line::Capped capped = line::cap(line, topology, element);
  if (closes_behind_itself(line.elements[element].kind)) {
    // What it holds itself lies at its tip's side, where its leaks come in.
    line::Element& shut = capped.line.elements[capped.index[element]];
    shut.volume = 0.0;
    shut.gauge.reset();
  }
  return volume(line, topology) - volume(capped.line, line::topology(capped.line, false));
}

}  // namespace airtally::hunt
