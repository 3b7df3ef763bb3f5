#include "report/pump_fit_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "gas/air.hpp"
#include "report/chart.hpp"
#include "report/table.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::FittedPoint;
using study::PumpFit;

constexpr double to_litres = 60e3 / gas::free_air_density;

std::string verdict(const line::PumpReadings& readings, const PumpFit& fit, const Look& look) {
  double worst = 0.0;
  for (const study::FittedReading& one : fit.readings) worst = std::max(worst, std::abs(one.off));
  const std::string curve =
      fmt::format("'{}' gives {} with nothing connected and pulls down to {}, at 101.3 kPa and 20 C.",
                  clean(readings.name), flow(fit.curve.front().flow.median), vacuum(look, fit.deepest.median));
  if (fit.readings.empty()) return curve;
  if (worst < 1e-3 * fit.curve.front().flow.median)
    return curve + " The curve goes through every one of " + counted(fit.readings.size(), "reading") + '.';
  return curve +
         fmt::format(" The worst of {} lies {} off the curve.", counted(fit.readings.size(), "reading"), flow(worst));
}

std::string points(const PumpFit& fit, const Look& look) {
  const Scale scale = vacuum_scale(look, fit.deepest.median), flows = flow_scale(fit.curve.front().flow.median);
  Table table({{"vacuum", scale.unit()}, {"flow", flows.unit()}, {"nine in ten", flows.unit(), true}});
  for (const FittedPoint& point : fit.curve)
    table.add({scale.number(point.vacuum), flows.number(point.flow.median),
               flows.number(point.flow.low) + " .. " + flows.number(point.flow.high)});
  return table.text(look.style);
}

std::string drawn(const PumpFit& fit, const Look& look) {
  Chart chart;
  Curve curve{"", {}, {}};
  for (const FittedPoint& point : fit.curve) {
    curve.x.push_back(1e-3 * point.vacuum);
    curve.y.push_back(to_litres * point.flow.median);
  }
  chart.curves = {curve};
  chart.x_unit = "kPa";
  chart.y_unit = "L/min";
  return "flow over vacuum, points joined straight\n" + draw(chart, look.style);
}

}  // namespace

std::string pump_fit_text(const line::PumpReadings& readings, const PumpFit& fit, const Look& look) {
  std::string out = look.style.bold(cut(clean(readings.name), 80, look.style.cut_mark())) + "\n\n";
  out += paragraph(verdict(readings, fit, look)) + '\n' + points(fit, look) + '\n' + drawn(fit, look) + '\n';
  out += paragraph("For a catalogue, with two standard deviations of what the bench leaves unsure:") + '\n' +
         pump_entry(readings, fit) + '\n';
  for (const std::string& row :
       wrap(fmt::format("nine in ten: of {} draws of the gauge's one error, the holes, their discharge and the flows. "
                        "Flows are made never to rise with vacuum; readings that did so share a point.",
                        fit.samples),
            80))
    out += look.style.dim(row) + '\n';
  if (fit.failed > 0)
    out += paragraph(
        fmt::format("{} of the {} draws leave fewer than two points and are left out.", fit.failed, fit.samples));
  for (const std::string& note : fit.notes) out += paragraph("Note: " + note + ".", 80, 2);
  return out + paragraph(
                   "A pump that runs against a blocked inlet gets hot: keep the reading short, and let it cool. Block "
                   "it with a plug, not a thumb.");
}

}  // namespace airtally::report
