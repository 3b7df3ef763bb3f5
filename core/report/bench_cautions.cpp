#include <algorithm>

#include "report/verdicts.hpp"
#include "report/words.hpp"

namespace airtally::report {

std::string bench_cautions(const line::Line& line) {
  const auto any = [&](const auto& is) { return std::any_of(line.elements.begin(), line.elements.end(), is); };
  std::vector<std::string> first{"lock out the moving axes"};
  if (any([](const line::Element& e) { return e.valve && e.valve->vent && e.valve->vent->blow_off; }))
    first.emplace_back("shut off blow-off air");
  if (any([](const line::Element& e) { return e.kind == line::Kind::pump; })) first.emplace_back("let the pump cool");
  std::string ejector;
  if (any([](const line::Element& e) { return e.kind == line::Kind::ejector; }))
    ejector = " Shut off the ejector's compressed air and let its pressure out before you undo a joint.";
  std::string ammeter;  // where the file has a motor's current, that is what may be read
  if (any([](const line::Element& e) { return e.pump && !e.pump->current.empty(); }))
    ammeter = " Wire an ammeter in with the supply off, and never into mains.";
  return "Before you reach in: " + listed(first) + "; use a plug, not a thumb." + ejector + ammeter;
}

}  // namespace airtally::report
