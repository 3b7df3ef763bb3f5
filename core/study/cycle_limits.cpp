#include "study/cycle_limits.hpp"

#include "line/variant.hpp"

namespace airtally::study {

std::vector<Better> better_lines(const line::Line& line) {
  std::vector<Better> all;
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    const line::Element& e = line.elements[i];
    line::Line better = line;
    line::Element& b = better.elements[i];
    const bool leaks = !e.leaks.empty();
    const char* what = "without leak and restriction";
    line::seal(b);
    if (e.kind == line::Kind::valve) {
      line::Line quick = line;
      quick.elements[i].valve = e.valve.value_or(line::Valve{});
      quick.elements[i].valve->opens = quick.elements[i].valve->ramp = 0.0;
      if (e.valve && e.valve->opens.value + e.valve->ramp.value > 0.0)
        all.push_back({{i, "without its delay", 0.0}, std::move(quick)});
      auto& iso = std::get<line::Iso>(b.restriction);
      iso.conductance = 100.0 * iso.conductance.value;
    } else if (line::is_source(e.kind)) {
      for (line::CurvePoint& p : b.pump->flow) p.value = 2.0 * p.value.value;
      what = "with twice the flow";
    } else if (e.kind != line::Kind::nozzle && line::restricts(e)) {
      line::clear_way(b);
    } else if (leaks) {
      what = "without its leak";  // a nozzle keeps its bore: it is what holds the part
    } else {
      continue;
    }
    all.push_back({{i, what, 0.0}, std::move(better)});
  }
  return all;
}

}  // namespace airtally::study
