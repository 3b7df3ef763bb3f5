#include "hunt/readings/reading.hpp"

#include <cmath>

#include "line/meters.hpp"

namespace airtally::hunt {
namespace {

double or_else(double value, double fallback) { return value > 0.0 ? value : fallback; }

/// A meter with what is missing filled in; a reading repeats within one step of the display.
Meter completed(Meter stated, double accuracy, double resolution) {
  stated.accuracy = or_else(stated.accuracy, accuracy);
  stated.resolution = or_else(stated.resolution, resolution);
  stated.repeatability = or_else(stated.repeatability, stated.resolution);
  return stated;
}

}  // namespace

double Meter::noise() const { return std::sqrt(resolution * resolution / 12.0 + 0.25 * repeatability * repeatability); }

Meter meter_at(const line::Line& line, const Bench& bench, Instrument instrument, std::size_t at) {
  const line::Element& e = line.elements[at];
  if (instrument == Instrument::vacuum) {
    Meter meter = bench.gauge.value_or(Meter{});
    if (e.gauge) {
      meter.accuracy = or_else(e.gauge->accuracy.value, meter.accuracy);
      meter.resolution = or_else(e.gauge->resolution.value, meter.resolution);
    }
    if (bench.gauge_repeatability >= 0.0) meter.repeatability = bench.gauge_repeatability;
    return completed(meter, line::usual_gauge_accuracy, line::usual_gauge_step);
  }
  if (instrument == Instrument::plugged)
    return completed(bench.plug_gauge.value_or(Meter{}), line::usual_gauge_accuracy, line::usual_gauge_step);
  if (instrument == Instrument::current) {
    const double top = e.pump ? line::highest(e.pump->current) : 0.0;
    return completed(bench.ammeter.value_or(Meter{}), 0.02 * top, line::ammeter_step(e));
  }
  if (instrument == Instrument::inflow) return {};
  const double free_flow = e.pump ? line::highest(e.pump->flow) : 0.0;
  return completed(bench.flow_meter.value_or(Meter{}), 0.03, 0.001 * free_flow);
}

}  // namespace airtally::hunt
