#include <algorithm>

#include "line/topology.hpp"
#include "report/describe.hpp"
#include "report/outline.hpp"
#include "report/said_in.hpp"
#include "report/text.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

std::string verdict(const line::Line& line, const std::vector<study::Warning>& warnings) {
  std::size_t sources = 0, gauges = 0, leaks = 0, assumed = line.assumed.size();
  for (const line::Element& e : line.elements) {
    sources += line::is_source(e.kind) ? 1 : 0;
    gauges += e.gauge ? 1 : 0;
    leaks += e.leaks.size();
    assumed += e.assumed.size();
  }
  std::string text = "A sound line: " + counted(line.elements.size(), "element") + " with " +
                     counted(sources, "source") + " of vacuum, " +
                     counted(line::all_of(line, line::Kind::nozzle).size(), "nozzle") + ", " +
                     counted(gauges, "gauge") + " and " + counted(leaks, "leak") + ". ";
  text += assumed == 0 ? "Nothing had to be assumed"
                       : capital(counted(assumed, "value")) + (assumed == 1 ? " was" : " were") + " assumed";
  text += warnings.empty() ? ", and nothing calls for a warning." : "; " + counted(warnings.size(), "warning") + ".";
  return text;
}

std::string site(const line::Line& line, const Look& look) {
  return "The room: " + vacuum_scale(look, line.site.pressure).text(line.site.pressure) + ", " +
         units::show(line.site.temperature, "C", 1) + ".";
}

/// A name in its column and text beside it.
std::string entry(const std::string& head, const std::string& text, std::size_t column, const Style& style) {
  const std::string start = pad_right(cut(head, column - 2, style.cut_mark()), column);
  std::string out;
  for (const std::string& row : wrap(text, 80 - column)) {
    out += (out.empty() ? start : std::string(column, ' ')) + row + '\n';
  }
  return out;
}

/// Every default once, with the elements that took it.
std::string assumptions(const line::Line& line) {
  std::vector<std::pair<std::string, std::vector<std::string>>> all;
  const auto add = [&all](const std::string& phrase, const std::string& who) {
    const auto found = std::find_if(all.begin(), all.end(), [&](const auto& one) { return one.first == phrase; });
    if (found == all.end())
      all.push_back({phrase, {who}});
    else
      found->second.push_back(who);
  };
  for (const std::string& phrase : line.assumed) add(clean(phrase), "the line");
  for (const line::Element& e : line.elements)
    for (const std::string& phrase : e.assumed) add(clean(phrase), clean(e.name));
  std::string out;
  for (const auto& [phrase, who] : all) out += paragraph(phrase + " (" + listed(who) + ")", 80, 2);
  return out;
}

}  // namespace

std::string check_text(const line::Line& line, const std::vector<study::Warning>& warnings, const Look& look) {
  const Style& style = look.style;
  const line::Topology topology = line::topology(line);
  std::string out =
      style.bold(cut(title(line), 80, style.cut_mark())) + "\n\n" + paragraph(verdict(line, warnings)) + '\n';
  out += drawing(line, topology, style);
  const bool leaks =
      std::any_of(line.elements.begin(), line.elements.end(), [](const auto& e) { return !e.leaks.empty(); });
  if (leaks) out += style.dim("* leaks") + '\n';

  std::size_t column = 12;
  for (const line::Element& e : line.elements)
    column = std::max(column, std::min<std::size_t>(26, width(clean(e.name)) + 2));
  out += '\n' + style.bold("As understood") + '\n';
  for (const OutlineRow& row : outline(topology, style))
    out += entry(name(line, row.element), described(line.elements[row.element], look), column, style);
  const bool rim =
      std::any_of(line.elements.begin(), line.elements.end(), [](const auto& e) { return e.rim.has_value(); });
  if (line.part) out += entry("part", described(*line.part, rim, look), column, style);
  if (line.sensor) out += entry("sensor", described(*line.sensor, look), column, style);
  out += paragraph(site(line, look));

  const std::string assumed = assumptions(line);
  if (!assumed.empty()) out += '\n' + style.bold("Assumed, not given") + '\n' + assumed;

  if (!warnings.empty()) out += '\n' + style.warning("Warnings") + '\n';
  for (const study::Warning& w : warnings)
    out += entry(name(line, w.element), clean(said_in(look, w.sentence)), column, style);
  return out;
}

}  // namespace airtally::report
