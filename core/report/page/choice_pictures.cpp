// Which part on which nozzle, and which pump.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "gas/air.hpp"
#include "report/page/bars.hpp"
#include "report/page/pictures.hpp"
#include "report/pumps_text.hpp"
#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report::page {
namespace {

using study::Grasp;
using study::Pumps;
using study::PumpTry;

constexpr double letters = 12.0, choice_height = 34.0, choice_head = 40.0;

/// One colour and one sign for each, so that no one needs the colour.
int colour_of(Grasp grasp) { return grasp == Grasp::holds ? 3 : grasp == Grasp::marginal ? 6 : 2; }
std::string_view sign_of(Grasp grasp) {
  return grasp == Grasp::holds      ? "M0 4l4 4l8 -9"
         : grasp == Grasp::marginal ? "M0 5q3 -6 6 -1t6 -1"
                                    : "M1 0l9 9m0 -9l-9 9";
}

/// In at most two rows that end above `bottom`.
void nozzle_name(Markup& out, const std::string& name, double middle, double bottom, double width) {
  const std::vector<std::string> rows = wrap(name, static_cast<std::size_t>(width / (0.58 * letters)));
  const std::size_t count = std::min<std::size_t>(rows.size(), 2);
  for (std::size_t r = 0; r < count; ++r)
    label(out, middle, bottom - 6.0 - 14.0 * static_cast<double>(count - 1 - r),
          fitted(r + 1 == count && rows.size() > 2 ? rows[r] + "…" : rows[r], width, letters), "middle", "name");
}

/// A table of cells; nozzles that have no room beside the others come below them.
std::string matrix_drawn(const std::string& title, const std::string& text, const Pumps& pumps, double width) {
  const bool beside = width >= wide;
  const double left = beside ? 170.0 : 104.0, least = beside ? 96.0 : 82.0;
  const std::size_t fit = std::max<std::size_t>(1, static_cast<std::size_t>((width - left) / least));
  const std::size_t in_row = std::min(fit, pumps.nozzles.size());
  const std::size_t blocks = (pumps.nozzles.size() + in_row - 1) / in_row;
  const double each = std::min(150.0, (width - left) / static_cast<double>(in_row));
  const double high = choice_head + choice_height * static_cast<double>(pumps.parts.size()) + 8.0;
  Markup out;
  open_svg(out, beside ? "parts-w" : "parts-n", title, text, width, high * static_cast<double>(blocks));
  for (std::size_t block = 0; block < blocks; ++block) {
    const double top = high * static_cast<double>(block);
    const std::size_t from = block * in_row, to = std::min(from + in_row, pumps.nozzles.size());
    label(out, left - 10.0, top + choice_head - 6.0, "part on", "end", "axis");
    for (std::size_t n = from; n < to; ++n)
      nozzle_name(out, pumps.nozzles[n], left + each * (static_cast<double>(n - from) + 0.5), top + choice_head,
                  each - 6.0);
    for (std::size_t p = 0; p < pumps.parts.size(); ++p) {
      const double y = top + choice_head + choice_height * static_cast<double>(p);
      label(out, left - 10.0, y + 20.0, fitted(pumps.parts[p], left - 10.0, letters), "end", "name");
      for (std::size_t n = from; n < to; ++n) {
        const Grasp grasp = pumps.tries.front().grasps.at(p).at(n);
        const double x = left + each * static_cast<double>(n - from);
        out.leaf("rect", {{"x", number(x + 2.0)},
                          {"y", number(y + 2.0)},
                          {"width", number(each - 4.0)},
                          {"height", number(choice_height - 4.0)},
                          {"class", fmt::format("band c{}", colour_of(grasp))}});
        out.leaf("path", {{"d", std::string(sign_of(grasp))},
                          {"transform", fmt::format("translate({} {})", number(x + 8.0), number(y + 13.0))},
                          {"class", fmt::format("curve c{}", colour_of(grasp))}});
        label(out, x + 25.0, y + 21.0, word(grasp), "start", "value");
      }
    }
  }
  out.close();
  return out.take();
}

/// In a list of pumps, that a thing is a pump needs no word.
std::string name_of(const PumpTry& pump) {
  const std::string name = harmless(pump.name);
  if (pump.own) return name + " (now)";
  return name.starts_with("pump ") ? name.substr(5) : name;
}

DataTable pumps_table(const Pumps& pumps, double top, const Scale& times, const Scale& flows) {
  DataTable table;
  table.caption = "Every pump in the place of the line's own";
  table.columns = {{"pump", "", "", false},
                   {"tip open", "pumps.vacuum_open_pa", "", true},
                   {"with the part on", "pumps.vacuum_part_pa", "", true},
                   {"to spare", "pumps.margin_pa", "", true},
                   {"free flow", "pumps.free_flow_kg_s", flows.unit(), false},
                   {"ready after", "pumps.reach_s", times.unit(), false},
                   {"of the parts on nozzles it holds", "", "", false},
                   {"does the job", "", "", false}};
  for (std::size_t k = 0; k < pumps.tries.size(); ++k) {
    const PumpTry& pump = pumps.tries[k];
    std::size_t holds = 0, all = 0;
    for (const auto& row : pump.grasps)
      for (const Grasp grasp : row) ++all, holds += grasp == Grasp::holds ? 1U : 0U;
    table.rows.push_back(
        {harmless(pump.name),
         {vacuum_cell(pump.vacuum_open, top), vacuum_cell(pump.vacuum_part, top), vacuum_cell(pump.margin, top),
          measured(pump.free_flow, flows.number(pump.free_flow)),
          pump.reach ? measured(*pump.reach, times.number(*pump.reach)) : words("never"),
          words(fmt::format("{} of {}", holds, all)), words(pump.does() ? "yes" : "no: " + listed(pump.troubles))},
         pumps.smallest == k});
  }
  return table;
}

}  // namespace

Picture parts_by_nozzles(const Findings& found, const Units&) {
  const Pumps& pumps = *found.choice;
  const std::string pump = the(found.line.elements.at(pumps.element));
  std::size_t holds = 0;
  for (const auto& row : pumps.tries.front().grasps)
    holds += static_cast<std::size_t>(std::count(row.begin(), row.end(), Grasp::holds));
  Picture picture;
  picture.id = "parts";
  picture.title = "Which part holds on which nozzle";
  picture.text = fmt::format("With {} as it is, {} of {} pairs of part and nozzle hold with all their safety.", pump,
                             holds, pumps.parts.size() * pumps.nozzles.size());
  picture.on_wide = matrix_drawn(picture.title, picture.text, pumps, wide);
  picture.on_narrow = matrix_drawn(picture.title, picture.text, pumps, narrow);
  picture.legend = "With " + pump +
                   " as it is, at the widest gap. Holds: with all its safety. Marginal: without it, so that any little "
                   "thing may lose the part. Drops: not even so, or the part does not close the nozzle.";
  picture.table.caption = "Parts by nozzles";
  picture.table.columns = {{"part", "", "", false}};
  for (const std::string& nozzle : pumps.nozzles) picture.table.columns.push_back({harmless(nozzle), "", "", false});
  for (std::size_t p = 0; p < pumps.parts.size(); ++p) {
    DataTable::Row row{harmless(pumps.parts[p]), {}, false};
    for (const Grasp grasp : pumps.tries.front().grasps.at(p)) row.cells.push_back(words(std::string(word(grasp))));
    picture.table.rows.push_back(std::move(row));
  }
  return picture;
}

Picture pump_choice(const Findings& found, const Units& units) {
  const Pumps& pumps = *found.choice;
  double top = 0.0, slowest = 0.0, strongest = 0.0;
  for (const PumpTry& pump : pumps.tries) {
    top = std::max({top, pump.vacuum_part, std::abs(pump.margin)});
    slowest = std::max(slowest, pump.reach.value_or(0.0));
    strongest = std::max(strongest, pump.free_flow);
  }
  const Scale times = time_scale(slowest), flows = flow_scale(strongest);
  std::vector<std::string> names;
  BarBlock had{"with the part on", "", true, {}}, free{"free flow", flows.unit(), false, {}},
      lifts{"ready after", times.unit(), false, {}};
  for (const PumpTry& pump : pumps.tries) {
    names.push_back(name_of(pump));
    const int colour = !pump.does() ? 2 : pump.own ? 1 : 5;
    had.bars.push_back(Bar{0.0, pump.vacuum_part, {}, "", false, colour});
    free.bars.push_back(Bar{0.0, pump.free_flow, {}, flows.number(pump.free_flow), false, colour});
    lifts.bars.push_back(pump.reach ? std::optional(Bar{0.0, *pump.reach, {}, times.number(*pump.reach), false, colour})
                                    : std::nullopt);
  }
  Picture picture;
  picture.id = "pumps";
  picture.title = "Other pumps in its place";
  picture.text = pumps_verdict(found.line, pumps, units.first());
  const std::vector<BarBlock> blocks{had, free, lifts};
  picture.on_wide = bars_drawn(picture.id, picture.title, picture.text, names, blocks, units, wide);
  picture.on_narrow = bars_drawn(picture.id, picture.title, picture.text, names, blocks, units, narrow);
  picture.legend =
      "Blue: what the line has now. Grey: another that does the job. Orange: one that does not; the table says why. "
      "Ready: from an open room, valves open, until the tip has what the moves need.";
  picture.table = pumps_table(pumps, top, times, flows);
  return picture;
}

}  // namespace airtally::report::page
