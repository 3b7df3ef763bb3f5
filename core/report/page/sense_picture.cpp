#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/page/pictures.hpp"
#include "report/page/plot.hpp"
#include "report/verdicts.hpp"
#include "report/words.hpp"

namespace airtally::report::page {
namespace {

/// How often a state gives which reading, its height 1, whatever its width: both must be seen. A reading that a limit
/// holds is drawn as the bell of its deviation.
Series course(const study::SensedState& state, study::BoundedScatter scatter, double least, int colour) {
  constexpr int points = 40;
  constexpr double reach = 4.0;  // deviations each way
  if (state.reading.clipped) scatter = {{state.reading.read, state.deviation}, {}};
  scatter.normal.deviation = std::max(scatter.normal.deviation, least);
  const double from = study::threshold_below(scatter, reach), to = study::threshold_above(scatter, reach);
  Series series{state.name, {}, {}, colour == 1 ? Stroke::line : Stroke::dashed, colour, {}, {}};
  double most = 0.0;
  for (int k = 0; k <= 2 * points; ++k) {
    series.x.push_back(from + (to - from) * k / (2 * points));
    series.y.push_back(study::density(scatter, series.x.back()));
    most = std::max(most, series.y.back());
  }
  for (double& y : series.y) y /= most;
  return series;
}

DataTable table_of(const study::Sense& sense) {
  DataTable table;
  double top = 0.0;
  for (const auto& s : sense.states) top = std::max(top, std::abs(s.reading.vacuum));
  table.caption = sense.points ? "What the switch feels and says" : "What the sensor reads";
  const bool is_switch = sense.points.has_value();
  table.columns = {{"tip", "", "", false}, {"vacuum", "sense.vacuum_pa", "", true}};
  if (!is_switch) table.columns.push_back({"read as", "sense.read_pa", "", true});
  table.columns.push_back({"scatter, one deviation", "sense.deviation_pa", "Pa", false});
  if (is_switch) {
    table.columns.push_back({"switch", "sense.says", "", false});
  } else {
    table.columns.push_back({"at the ADC", "sense.output_v", "V", false});
    table.columns.push_back({"counts", "sense.counts", "", false});
  }
  for (const auto& s : sense.states) {
    DataTable::Row row{s.name, {vacuum_cell(s.reading.vacuum, top)}, false};
    if (!is_switch) row.cells.push_back(vacuum_cell(s.reading.read, top));
    row.cells.push_back(measured(s.deviation, fmt::format("{:.1f}", s.deviation)));
    if (is_switch) {
      row.cells.push_back(words(std::string(study::word(s.says.value_or(study::SwitchSays::off)))));
    } else {
      row.cells.push_back(measured(s.reading.output, fmt::format("{:.3f}", s.reading.output)));
      row.cells.push_back(measured(s.reading.counts, fmt::format("{:.0f}", s.reading.counts)));
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace

Picture sensing(const Findings& found, const Units& units) {
  const study::Sense& sense = *found.sense;
  Plot plot;
  plot.id = "sensing";
  plot.title = std::string(sense.points ? "What the switch at " : "What the sensor at ") +
               the(found.line.elements[sense.element]) + (sense.points ? " feels" : " reads");
  plot.text = sense_verdict(found.line, sense, units.first());
  plot.height = 260.0;
  plot.x.of = Axis::Of::vacuum;
  plot.x.label = sense.points ? "vacuum that the switch feels" : "vacuum that the sensor reads";
  plot.y.label = "how often, the most often is 1";
  double most = 0.0;
  for (const auto& s : sense.states) most = std::max(most, std::abs(s.reading.vacuum));
  for (const std::string_view name : {"part", "open"})
    for (const auto& s : sense.states) {
      if (s.name != name) continue;
      const bool part = plot.series.empty();
      plot.series.push_back(course(s, part ? sense.part_scatter : sense.open_scatter, 1e-3 * most, part ? 1 : 2));
    }
  if (sense.points) {
    plot.marks.push_back({sense.points->on, "on from here up"});
    plot.marks.push_back({sense.points->off, "off from here down"});
  } else if (sense.threshold > 0.0) {
    plot.marks.push_back({sense.threshold, "held from here on"});
  }
  for (const auto& s : sense.states)
    if (s.name == "half covered") plot.marks.push_back({s.reading.read, "half covered"});
  fit_axes(plot, units);
  Picture picture = picture_of(plot, units);
  picture.legend = "Both curves are drawn equally high; their width is the scatter of the reading that decides.";
  picture.table = table_of(sense);
  return picture;
}

}  // namespace airtally::report::page
