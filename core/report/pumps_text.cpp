#include "report/pumps_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "line/shut_valve.hpp"
#include "report/needs.hpp"
#include "report/pump_chart.hpp"
#include "report/safe_side.hpp"
#include "report/shut_words.hpp"
#include "report/table.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::Pumps;
using study::PumpTry;
using units::Dimension;

/// "the line's own pump", "the 'pump 12 V micro'".
std::string named(const PumpTry& pump) { return pump.own ? "the line's own pump" : "the '" + clean(pump.name) + "'"; }

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
               {fmt::format("at {:.1f} kPa", 1e-3 * pumps.high_pressure), scale.unit()},
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
  return "With " + named(pump) + ":\n" + table.text(look.style) + '\n';
}

std::string required(const Pumps& pumps, const Look& look) {
  if (pumps.required.empty() || pumps.hold.flow <= 0.0) return "";
  const Scale scale = vacuum_scale(look, pumps.required.back().vacuum);
  double most = 0.0;
  for (const study::RequiredPoint& point : pumps.required) most = std::max(most, point.flow);
  const Scale flows = flow_scale(most);
  Table table({{"vacuum", scale.unit()}, {"at least", flows.unit()}});
  for (const study::RequiredPoint& point : pumps.required)
    table.add(
        {no_less_than(point.vacuum, Dimension::pressure, scale), no_less_than(point.flow, Dimension::flow, flows)});
  return "The curve that would just do:\n" + table.text(look.style) + '\n';
}

std::string troubles(const Pumps& pumps) {
  std::string text;
  for (const PumpTry& pump : pumps.tries)
    if (!pump.does()) text += paragraph(capital(named(pump)) + " does not do: " + listed(pump.troubles) + ".", 80, 2);
  return text.empty() ? text : text + '\n';
}

std::string how(const Pumps& pumps, const Look& look) {
  return fmt::format(
      "to spare: vacuum beyond what holding needs, at the widest gap. lifts: from ambient until {} "
      "the moves need, valves open. runs: part of the time that keeps it so. The two columns of the second table "
      "say what is to spare with less supply voltage, the flow taken to fall as the voltage does (common practice, no "
      "source), and where the room's pressure is {:.1f} kPa. holds: with all safety; marginal: without it; drops: not "
      "even so, or the part does not close the nozzle. Curves are read at 101.3 kPa and 20 C. What an entry of the "
      "catalogue is not sure of stands at its "
      "middle value.",
      until_needs(pumps.needs, look), 1e-3 * pumps.high_pressure);
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

std::string pumps_verdict(const line::Line& line, const study::Pumps& pumps, const Look& look) {
  if (!pumps.why_not_closed.empty()) return "No pump can do this: " + clean(pumps.why_not_closed) + ".";
  const auto shut = pumps.hold_possible ? std::nullopt : line::shut_valve(line);
  if (shut)
    return "No pump can do this. " + stands_shut(line.elements[*shut]) + ", so no pump's vacuum gets to the tip. " +
           open_it(line.elements[*shut]);
  if (!pumps.hold_possible)
    return "No pump can do this: the moves need " + needs_at_tips(pumps.needs, look) +
           ", more than any vacuum brings there.";
  std::string text;
  if (pumps.smallest) {
    const PumpTry& least = pumps.tries[*pumps.smallest];
    const auto does = static_cast<std::size_t>(
        std::count_if(pumps.tries.begin(), pumps.tries.end(), [](const PumpTry& pump) { return pump.does(); }));
    const std::size_t all = pumps.tries.size();
    const std::string who =
        all == 1      ? capital(named(least)) + " does the job"
        : does == 1   ? fmt::format("Of {} pumps {} alone does the job", all, named(least))
        : does == all ? fmt::format("All {} pumps do the job, and {} is the smallest", all, named(least))
                      : fmt::format("Of {} pumps {} do the job, and {} is the smallest", all, does, named(least));
    text = fmt::format("{}: {} of free flow, {} at the tip with the part on, {} to spare.", who, flow(least.free_flow),
                       vacuum(look, least.vacuum_part), vacuum(look, least.margin));
  } else if (pumps.tries.size() == 1) {
    text = capital(named(pumps.tries.front())) + " does not do the job.";
  } else {
    text = fmt::format("None of these {} does the job.", counted(pumps.tries.size(), "pump"));
  }
  const Scale scale = vacuum_scale(look, pumps.hold.vacuum);
  if (pumps.hold.flow <= 0.0)
    return text + " The other sources of the line hold the part alone: no flow is asked of this one.";
  text +=
      fmt::format(" To hold the part a pump must give {} at {} or more", no_less_than(pumps.hold.flow, Dimension::flow),
                  no_less_than(pumps.hold.vacuum, Dimension::pressure, scale) + ' ' + scale.unit());
  if (pumps.speed_for_time && pumps.time)
    text += fmt::format(
        "; to have it so within the {} allowed, from the room's pressure, {} of free flow at constant speed",
        time(*pumps.time), no_less_than(*pumps.speed_for_time, Dimension::flow));
  text += '.';
  if (pumps.smallest && pumps.speed_for_time && *pumps.speed_for_time > pumps.tries[*pumps.smallest].free_flow)
    text += " In the [cycle] less will do, as the line is pumped down behind its valve before.";
  if (pumps.tries.size() == 1)
    text += " Only the line's own pump was tried: --from FOLDER tries others, such as --from lines/catalogue.";
  return text;
}

std::string pumps_text(const line::Line& line, const Pumps& pumps, const study::PumpAgainstLine& against,
                       const Look& look) {
  std::string out = look.style.bold(cut(title(line), 80, look.style.cut_mark())) + "\n\n";
  out +=
      paragraph(pumps_verdict(line, pumps, look)) + '\n' + vacuums(pumps, look) + '\n' + supplies(pumps, look) + '\n';
  out += troubles(pumps) + matrix(pumps, look);
  if (against.element == pumps.element) out += pump_chart(line, against, look);
  out += required(pumps, look);
  for (const std::string& row : wrap(how(pumps, look), 80)) out += look.style.dim(row) + '\n';
  for (const std::string& note : pumps.notes) out += paragraph("Note: " + note + ".", 80, 2);
  out += paragraph(
      "Pumps and their exhaust get hot; let one cool before you change it. Work on mains wiring is for a person "
      "licensed to do it, after the local code. Vacuum lets go when the power fails.");
  return out;
}

}  // namespace airtally::report
