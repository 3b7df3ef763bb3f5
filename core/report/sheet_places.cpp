#include "report/sheet_places.hpp"

#include "report/describe.hpp"
#include "report/strip_columns.hpp"
#include "report/words.hpp"
#include "units/unit.hpp"

namespace airtally::report {
namespace {

/// From which step on a gauge is on the line, counted from 1.
std::size_t first_read(const study::Strip& strip, const StripColumn& gauge) {
  for (std::size_t s = 0; s < strip.steps.size(); ++s)
    if (reading(strip.steps[s].readings, gauge)) return s + 1;
  return 0;
}

std::string sentence(const line::Line& line, const study::Strip& strip, const StripColumn& gauge) {
  if (gauge.loose)
    return "The loose gauge goes into what blocks the end, through a tight fitting: in each step it sits where the "
           "plug sits.";
  if (strip.assumed_gauge)
    return "The line file has no gauge. Tee one in at the inlet of " + the(line.elements[gauge.at]) +
           ", close to it, and leave it there for every step. What its tee lets in counts with the first reading.";
  const std::size_t from = first_read(strip, gauge);
  return "The gauge at " + the(line.elements[gauge.at]) + " stays where it is" +
         (from > 1 ? ", and reads from step " + std::to_string(from) + " on: before that it is off with the rest."
                   : " in every step.");
}

}  // namespace

std::string blocked_with(const line::Element& element) {
  if (element.kind == line::Kind::plug) return "";
  if (element.kind == line::Kind::nozzle) return "block its mouth";
  if (line::is_source(element.kind)) return "cap its inlet";
  const auto* bore = std::get_if<line::Bore>(&element.restriction);
  return bore == nullptr ? "cap its port" : "plug, " + said(bore->bore.value, units::Dimension::length, {});
}

std::string where_gauges_go(const line::Line& line, const study::Strip& strip) {
  std::string text;
  for (const StripColumn& i : instruments(line, strip)) {
    if (i.ammeter) continue;
    if (!text.empty()) text += ' ';
    text += sentence(line, strip, i);
  }
  return text;
}

}  // namespace airtally::report
