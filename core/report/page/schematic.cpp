#include <algorithm>
#include <cmath>
#include <set>

#include "report/describe.hpp"
#include "report/page/flow_layout.hpp"
#include "report/page/pictures.hpp"
#include "report/page/schematic_parts.hpp"
#include "report/page/symbols.hpp"
#include "report/verdicts.hpp"
#include "report/words.hpp"

namespace airtally::report::page {
namespace {

DataTable table_of(const Findings& found) {
  const solve::SteadyAnswer& answer = found.steady.front();
  double top = 0.0, most = 0.0, leaks = 0.0;
  for (const auto& e : answer.elements) {
    top = std::max(top, std::abs(e.vacuum));
    most = std::max(most, std::abs(e.flow));
    leaks = std::max(leaks, e.leak);
  }
  const Scale flow = flow_scale(most), leak = leak_scale(leaks);
  DataTable table;
  table.caption = "The line " + state_phrase(found.tips);
  table.columns = {{"element", "", "", false},
                   {"what the file says of it", "", "", false},
                   {"vacuum", "steady.usual.vacuum_pa", "", true},
                   {"flow", "steady.usual.flow_kg_s", flow.unit(), false},
                   {"leak", "steady.usual.leak_kg_s", leak.unit(), false}};
  for (const auto& e : answer.elements) {
    const line::Element& element = found.line.elements[e.element];
    table.rows.push_back({harmless(element.name),
                          {words(described(element)), vacuum_cell(e.vacuum, top), measured(e.flow, flow.number(e.flow)),
                           measured(e.leak, e.leak > 0.0 ? leak.number(e.leak) : "-")},
                          false});
  }
  return table;
}

std::string key(const line::Line& line) {
  std::vector<std::string> kinds;
  std::set<std::string_view> seen;
  for (const line::Element& element : line.elements)
    if (seen.insert(symbol_words(element)).second) kinds.emplace_back(symbol_words(element));
  std::string text;
  for (const std::string& kind : kinds) text += (text.empty() ? "" : "; ") + kind;
  return capital(text) + ". ";
}

}  // namespace

Picture schematic(const Findings& found, const Units& units) {
  Picture picture;
  picture.id = "schematic";
  picture.title = "The line, from source to tip";
  picture.text = steady_verdict(found.line, found.steady.front(), units.first());
  std::size_t deepest = 0;
  for (const FlowCell& cell : across(line::topology(found.line))) deepest = std::max(deepest, cell.depth + 1);
  picture.on_wide = deepest <= most_across
                        ? schematic_across(found, units, picture.id, picture.title, picture.text)
                        : schematic_down(found, units, picture.id, picture.title, picture.text, wide);
  picture.on_narrow = schematic_down(found, units, picture.id, picture.title, picture.text, narrow);
  picture.legend =
      key(found.line) +
      "Symbols after ISO 1219-1, from memory; spindle, nozzle and plug are our own signs. Arrows: air that "
      "comes in, as wide as the flow is big. With each name: the vacuum at its end towards the tip, " +
      state_phrase(found.tips) + '.';
  picture.table = table_of(found);
  return picture;
}

}  // namespace airtally::report::page
