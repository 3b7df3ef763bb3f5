#include "report/pump_chart.hpp"

#include "report/chart.hpp"
#include "report/text.hpp"
#include "report/verdicts.hpp"
#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

using study::Demand;
using study::DemandPoint;

Curve curve_of(const std::string& name, const std::vector<DemandPoint>& points, double most, const Look& look,
               const units::Unit& flow) {
  Curve curve{name, {}, {}};
  for (const DemandPoint& point : points) {
    const double x = units::from_si(point.vacuum, *look.vacuum);
    if (point.flow > most || (!curve.x.empty() && x <= curve.x.back())) continue;
    curve.x.push_back(x);
    curve.y.push_back(units::from_si(point.flow, flow));
  }
  return curve;
}

}  // namespace

std::string pump_chart(const line::Line& line, const study::PumpAgainstLine& against, const Look& look) {
  const double most = against.pump.curve.front().flow;
  const units::Unit& unit = *units::find_unit(flow_scale(most).unit(), units::Dimension::flow);
  Chart chart;
  chart.curves = {curve_of(the(line.elements[against.element]), against.pump.curve, most, look, unit)};
  std::vector<std::string> meetings;
  for (const Demand& demand : against.demands) {
    const std::string state = state_phrase(demand.tips);
    meetings.push_back(vacuum(look, demand.meets.vacuum) + " and " + flow(demand.meets.flow) + ' ' + state);
    Curve curve = curve_of("the line " + state, demand.curve, most, look, unit);
    if (curve.x.size() > 1) chart.curves.push_back(std::move(curve));
  }
  if (chart.curves.size() < 2) return "";
  chart.x_unit = std::string(look.vacuum->symbol);
  chart.y_unit = std::string(unit.symbol);
  return paragraph("what " + the(line.elements[against.element]) +
                   " gives and what the line takes, over the vacuum at " + the(line.elements[against.element])) +
         draw(chart, look.style) + paragraph("They meet at " + listed(meetings) + ".") + '\n';
}

}  // namespace airtally::report
