#include "report/pumps_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "gas/air.hpp"
#include "report/needs.hpp"
#include "report/pump_chart.hpp"
#include "report/safe_side.hpp"
#include "report/said_in.hpp"
#include "report/table.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::Pumps;
using study::PumpTry;
using units::Dimension;

/// For a row of a table of pumps, that a thing is a pump needs no word.
std::string row_name(const PumpTry& pump) {
  const std::string name = clean(pump.name);
  if (pump.own) return name + " (now)";
  return name.starts_with("pump ") ? name.substr(5) : name;
}

std::string vacuums(const Pumps& pumps, const Look& look) {
  double most = 0.0, slowest = 0.0, latest = 0.0;
  for (const PumpTry& pump : pumps.tries) {
    most = std::max({most, pump.vacuum_blocked, std::abs(pump.margin)});
    slowest = std::max(slowest, pump.settle);
    latest = std::max(latest, pump.reach.value_or(0.0));
  }
  const Scale scale = vacuum_scale(look, most), settles = time_scale(slowest), lifts = time_scale(latest);
  Table table({{"pump", "", true},
               {"open", scale.unit()},
               {"part on", scale.unit()},
               {"blocked", scale.unit()},
               {"to spare", scale.unit()},
               {"settles", settles.unit()},
               {"lifts", lifts.unit()},
               {"runs", ""}});
  for (const PumpTry& pump : pumps.tries)
    table.add({row_name(pump), scale.number(pump.vacuum_open), scale.number(pump.vacuum_part),
               scale.number(pump.vacuum_blocked), scale.number(pump.margin), settles.number(pump.settle),
               pump.reach ? lifts.number(*pump.reach) : "never",
               pump.duty ? fmt::format("{:.1f} %", 100.0 * *pump.duty) : "-"},
              !pump.does());
  return table.text(look.style);
}

std::string supplies(const Pumps& pumps, const Look& look) {
  double most = 0.0;
  for (const PumpTry& pump : pumps.tries) most = std::max(most, std::abs(pump.margin));
  const Scale scale = vacuum_scale(look, most);
  double current_most = 0.0;
  for (const PumpTry& pump : pumps.tries)
    current_most = std::max({current_most, pump.current_open.value_or(0.0), pump.current_part.value_or(0.0)});
  const Scale amperes = current_scale(current_most);
  const auto current = [&](const std::optional<double>& a) { return a ? amperes.number(*a) : "-"; };
  Table table({{"pump", "", true},
               {"free flow", "L/min"},
               {"open", amperes.unit()},
               {"part on", amperes.unit()},
               {fmt::format("{:.0f} % supply", 100.0 * pumps.supply), scale.unit()},
               {"at " + vacuum(look, pumps.high_pressure), scale.unit()},
               {"holds", ""}});
  for (const PumpTry& pump : pumps.tries) {
    std::size_t holds = 0, all = 0;
    for (const auto& row : pump.grasps)
      for (const study::Grasp grasp : row) ++all, holds += grasp == study::Grasp::holds ? 1U : 0U;
    table.add({row_name(pump), fmt::format("{:.1f}", pump.free_flow * 60e3 / gas::free_air_density),
               current(pump.current_open), current(pump.current_part),
               pump.margin_sagging ? scale.number(*pump.margin_sagging) : "-", scale.number(pump.margin_high),
               fmt::format("{} of {}", holds, all)},
              !pump.does());
  }
  return table.text(look.style);
}

/// The pump whose matrix is worth a look: the smallest that does, else the line's own.
const PumpTry& shown(const Pumps& pumps) { return pumps.tries[pumps.smallest.value_or(0)]; }

std::string matrix(const Pumps& pumps, const Look& look) {
  if (pumps.parts.size() * pumps.nozzles.size() < 2) return "";
  std::vector<Column> columns{{"part on nozzle", "", true}};
  for (const std::string& nozzle : pumps.nozzles) columns.push_back({cut(clean(nozzle), 16, look.style.cut_mark())});
  Table table(columns);
  const PumpTry& pump = shown(pumps);
  for (std::size_t p = 0; p < pumps.parts.size(); ++p) {
    std::vector<std::string> cells{clean(pumps.parts[p])};
    for (const study::Grasp grasp : pump.grasps[p]) cells.emplace_back(word(grasp));
    table.add(std::move(cells));
  }
  return "With " + pump_named(pump) + ":\n" + table.text(look.style) + '\n';
}

std::string required(const line::Line& line, const Pumps& pumps, const Look& look) {
  if (pumps.required.empty() || pumps.hold.flow <= 0.0) return "";
  const Scale scale = vacuum_scale(look, pumps.required.back().vacuum);
  double most = 0.0;
  for (const study::RequiredPoint& point : pumps.required) most = std::max(most, point.flow);
  const Scale flows = flow_scale(most);
  Table table({{"vacuum", scale.unit()}, {"at least", flows.unit()}});
  // Where a pump needs no more flow at less vacuum, the last row says it all.
  std::vector<std::string> flow_at;
  for (const study::RequiredPoint& point : pumps.required)
    flow_at.push_back(no_less_than(point.flow, Dimension::flow, flows));
  for (std::size_t i = 0; i < flow_at.size(); ++i)
    if (i == 0 || i + 1 == flow_at.size() || flow_at[i] != flow_at[i - 1] || flow_at[i] != flow_at[i + 1])
      table.add({no_less_than(pumps.required[i].vacuum, Dimension::pressure, scale), flow_at[i]});
  return "The curve that would just do" + pumps_on_sheet(line, look) + ":\n" + table.text(look.style) + '\n';
}

std::string troubles(const Pumps& pumps) {
  std::string text;
  for (const PumpTry& pump : pumps.tries)
    if (!pump.does())
      text += paragraph(capital(pump_named(pump)) + " does not do: " + listed(pump.troubles) + ".", 80, 2);
  return text.empty() ? text : text + '\n';
}

std::string how(const Pumps& pumps, const Look& look) {
  return fmt::format(
      "to spare: vacuum beyond what holding needs, at the widest gap. lifts: from ambient until {} "
      "the moves need, valves open, at the widest gap too. runs: switched on and off to keep just that vacuum, the "
      "pump "
      "runs for this share of the time. The two columns of the second table say what is to spare with less supply "
      "voltage, the flow taken to fall as the voltage does (common practice, no source), and where the room's pressure "
      "is {}. holds: with all safety; marginal: without it; drops: not even so, or the part does not close the nozzle. "
      "Curves are read at {} and 20 C. What an entry of the catalogue is not sure of stands at its middle value.",
      until_needs(pumps.needs, look), vacuum(look, pumps.high_pressure), vacuum(look, gas::standard_pressure));
}

/// What is to be taken care of by whoever changes one source for another.
std::string exchange_cautions(const Pumps& pumps) {
  const auto any = [&](bool ejector) {
    return std::any_of(pumps.tries.begin(), pumps.tries.end(),
                       [&](const PumpTry& tried) { return tried.ejector == ejector; });
  };
  std::string text;
  if (any(false))
    text +=
        "Pumps and their exhaust get hot; let one cool before you change it. Work on mains wiring is for a person "
        "licensed to do it, after the local code. ";
  if (any(true))
    text +=
        "Close an ejector's compressed air and let its pressure out before a hose comes off; keep skin and eyes away "
        "from its exhaust. ";
  return text + "Lock out the moving axes. Vacuum lets go when the power fails.";
}

}  // namespace

std::string_view word(study::Grasp grasp) {
  switch (grasp) {
    case study::Grasp::holds:
      return "holds";
    case study::Grasp::marginal:
      return "marginal";
    case study::Grasp::drops:
      return "drops";
  }
  return "drops";
}

std::string pumps_text(const line::Line& line, const Pumps& pumps, const study::PumpAgainstLine& against,
                       const Look& look) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out +=
      paragraph(pumps_verdict(line, pumps, look)) + '\n' + vacuums(pumps, look) + '\n' + supplies(pumps, look) + '\n';
  out += troubles(pumps) + matrix(pumps, look);
  if (against.element == pumps.element) out += pump_chart(line, against, look);
  out += required(line, pumps, look);
  for (const std::string& row : wrap(how(pumps, look), 80)) out += look.style.dim(row) + '\n';
  for (const std::string& note : pumps.notes) out += paragraph("Note: " + said_in(look, note) + ".", 80, 2);
  return out + paragraph(exchange_cautions(pumps));
}

}  // namespace airtally::report
