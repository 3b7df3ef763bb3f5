#include "study/demand.hpp"

#include <algorithm>
#include <cmath>

#include "errors.hpp"
#include "line/topology.hpp"
#include "solve/answer.hpp"

namespace airtally::study {
namespace {

using solve::TipState;

constexpr std::size_t curve_points = 41;
/// The source's flow is changed by up to these factors, in equal ratios.
constexpr double least_factor = 5e-4, most_factor = 50.0;
constexpr std::size_t demand_points = 37;

std::size_t first_source(const line::Line& line) {
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line::is_source(line.elements[i].kind)) return i;
  throw BadInput(Position{line.file, 0, 0}, "the line has no pump or ejector.");
}

/// The curve of the source `element` of the line, at its site.
SourceCurve source_curve(const line::Line& line, std::size_t element) {
  const solve::Network network(line, line::topology(line), solve::all_tips(line, TipState::blocked));
  SourceCurve result{line.elements[element].name, {}};
  for (const solve::Source& source : network.sources) {
    if (source.element != element) continue;
    const double deepest = network.ambient - source.ultimate();
    for (std::size_t k = 0; k < curve_points; ++k) {
      const double vacuum = deepest * static_cast<double>(k) / static_cast<double>(curve_points - 1);
      result.curve.push_back({vacuum, std::max(0.0, source.at(network.ambient - vacuum).m)});
    }
  }
  return result;
}

DemandPoint at_source(const line::Line& line, const std::vector<TipState>& tips, std::size_t element) {
  for (const solve::SourceState& source : solve::steady(line, tips).sources)
    if (source.element == element) return {source.vacuum, source.flow};
  return {};
}

}  // namespace

PumpAgainstLine pump_against_line(const line::Line& line, std::span<const std::vector<TipState>> states,
                                  std::span<const line::Element> spares) {
  PumpAgainstLine result;
  result.element = first_source(line);
  result.pump = source_curve(line, result.element);
  for (const std::vector<TipState>& tips : states) {
    Demand demand{tips, {}, at_source(line, tips, result.element)};
    line::Line changed = line;
    line::Pump& pump = changed.elements[result.element].pump.value();
    const double speed = pump.speed.value;
    for (std::size_t k = 0; k < demand_points; ++k) {
      const double share = static_cast<double>(k) / static_cast<double>(demand_points - 1);
      pump.speed = speed * least_factor * std::pow(most_factor / least_factor, share);
      demand.curve.push_back(at_source(changed, tips, result.element));
    }
    result.demands.push_back(std::move(demand));
  }
  for (const line::Element& spare : spares) {
    line::Line changed = line;
    line::Element& here = changed.elements[result.element];
    here.kind = spare.kind;
    here.pump = spare.pump;
    result.spares.push_back(source_curve(changed, result.element));
    result.spares.back().name = spare.name;
  }
  return result;
}

}  // namespace airtally::study
