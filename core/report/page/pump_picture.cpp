#include <algorithm>
#include <cmath>

#include "report/page/pictures.hpp"
#include "report/page/plot.hpp"
#include "report/words.hpp"

namespace airtally::report::page {
namespace {

Series of(const std::string& name, const std::vector<study::DemandPoint>& curve, Stroke stroke, int colour) {
  Series series{harmless(name), {}, {}, stroke, colour, {}, {}};
  for (const study::DemandPoint& point : curve) {
    if (!series.x.empty() && point.vacuum <= series.x.back()) continue;  // x has to rise
    series.x.push_back(point.vacuum);
    series.y.push_back(point.flow);
  }
  return series;
}

DataTable table_of(const study::PumpAgainstLine& against, double top) {
  double most = 0.0;
  for (const study::Demand& demand : against.demands) most = std::max(most, demand.meets.flow);
  const Scale flow = flow_scale(most);
  DataTable table;
  table.caption = "Where the pump's curve and the line's meet";
  table.columns = {{"tips", "", "", false},
                   {"vacuum at the pump", "pump.vacuum_pa", "", true},
                   {"flow", "pump.flow_kg_s", flow.unit(), false}};
  for (const study::Demand& demand : against.demands)
    table.rows.push_back(
        {std::string(word(demand.tips)),
         {vacuum_cell(demand.meets.vacuum, top), measured(demand.meets.flow, flow.number(demand.meets.flow))},
         false});
  return table;
}

}  // namespace

Picture pump_and_line(const Findings& found, const Units& units) {
  const study::PumpAgainstLine& against = *found.pump;
  const std::string pump = the(found.line.elements[against.element]);
  Plot plot;
  plot.id = "pump";
  plot.title = "What " + pump + " gives, and what the line takes";
  plot.x.of = Axis::Of::vacuum;
  plot.x.label = "vacuum at " + pump;
  plot.y.label = "free air";
  const double most = against.pump.curve.front().flow;
  plot.y.unit = units::find_unit(flow_scale(most).unit(), units::Dimension::flow);
  plot.series.push_back(of(against.pump.name, against.pump.curve, Stroke::line, 1));
  int colour = 2;
  for (const study::Demand& demand : against.demands) {
    std::vector<study::DemandPoint> shown;  // not far above what the pump can give
    for (const study::DemandPoint& point : demand.curve)
      if (point.flow < 1.1 * most) shown.push_back(point);
    plot.series.push_back(
        of("the line, " + state_phrase(demand.tips), shown, colour == 2 ? Stroke::dashed : Stroke::dotted, colour));
    ++colour;
  }
  Series meets{"at rest", {}, {}, Stroke::points, 4, {}, {}};
  std::vector<study::DemandPoint> points;
  points.reserve(against.demands.size());
  for (const study::Demand& demand : against.demands) points.push_back(demand.meets);
  std::sort(points.begin(), points.end(), [](const auto& a, const auto& b) { return a.vacuum < b.vacuum; });
  for (const study::DemandPoint& point : points) {
    if (!meets.x.empty() && point.vacuum <= meets.x.back()) continue;
    meets.x.push_back(point.vacuum);
    meets.y.push_back(point.flow);
  }
  plot.series.push_back(std::move(meets));
  std::size_t spares = 0;
  for (const study::SourceCurve& spare : against.spares) {
    std::vector<study::DemandPoint> shown;
    for (const study::DemandPoint& point : spare.curve)
      if (point.flow < 2.0 * most) shown.push_back(point);
    plot.series.push_back(of("other: " + spare.name, shown,
                             spares == 0   ? Stroke::line
                             : spares == 1 ? Stroke::dashed
                                           : Stroke::dotted,
                             5));
    ++spares;
  }
  fit_axes(plot, units);
  const study::DemandPoint& usual = against.demands.front().meets;
  plot.text = capital(state_phrase(found.tips)) + ", " + pump + " and the line meet at " +
              report::vacuum(units.first(), usual.vacuum) + " and " + flow(usual.flow) + " of free air.";
  Picture picture = picture_of(plot, units);
  picture.legend =
      "The line is at rest where its curve crosses the pump's. A leak lifts the line's curve; a restriction on the way "
      "lowers it, and starves the tip.";
  if (!against.spares.empty()) picture.legend += " Grey: other pumps in its place.";
  picture.table = table_of(against, plot.x.top);
  return picture;
}

}  // namespace airtally::report::page
