#include "study/pumps.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "errors.hpp"
#include "gas/air.hpp"
#include "laws/pump_curve.hpp"
#include "laws/pump_supply.hpp"
#include "line/curves.hpp"
#include "line/topology.hpp"
#include "line/variant.hpp"
#include "solve/answer.hpp"
#include "study/cycle.hpp"
#include "study/duty.hpp"
#include "study/hold.hpp"
#include "study/need.hpp"
#include "study/reach.hpp"
#include "study/required_private.hpp"
#include "study/rise.hpp"

namespace airtally::study {
namespace {

std::optional<double> current_of(const line::Line& line, std::size_t at, const solve::SteadyAnswer& answer) {
  return line::current_at(line.elements[at], line.site, answer.ambient - answer.elements[at].vacuum);
}

double margin_of(const line::Line& line) {
  const Hold held = hold(line);
  return held.tips.at(held.weakest).margin;
}

/// Time allowed from touch, or from when the valve has opened if that is later, its ramp included, to the lift [s] >=
/// 0; none where the file gives none.
std::optional<double> time_allowed(const line::Line& line) {
  if (!line.cycle || !line.cycle->lift) return std::nullopt;
  double opens = 0.0;
  for (const line::Element& element : line.elements)
    if (element.valve) opens = std::max(opens, element.valve->opens.value + element.valve->ramp.value);
  return std::max(0.0, line.cycle->lift->value - std::max(line.cycle->touch.value, line.cycle->valve_on.value + opens));
}

line::Line with_nozzle(const line::Line& line, const line::Element& nozzle) {
  line::Line changed = line;
  for (const std::size_t i : line::all_of(line, line::Kind::nozzle)) {
    changed.elements[i].restriction = nozzle.restriction;
    changed.elements[i].rim = nozzle.rim;
  }
  return changed;
}

Grasp grasp_of(const line::Line& line) {
  const Hold held = hold(line);
  if (held.holds()) return Grasp::holds;
  line::Line bare = line;
  bare.move = held.move;
  bare.move->lift_safety = bare.move->side_safety = units::Quantity(1.0);
  for (const TipHold& tip : held.tips)
    if (tip.least.vacuum < needed_vacuum(bare, tip.element).to_travel) return Grasp::drops;
  return Grasp::marginal;
}

std::vector<std::vector<Grasp>> matrix(const line::Line& line, const PumpsOptions& options) {
  std::vector<std::vector<Grasp>> grasps;
  for (std::size_t p = 0; p <= options.parts.size(); ++p) {
    line::Line with_part = line;
    if (p > 0) with_part.part = options.parts[p - 1];
    std::vector<Grasp> row;
    row.reserve(options.nozzles.size() + 1);
    row.push_back(grasp_of(with_part));
    for (const line::Element& nozzle : options.nozzles) row.push_back(grasp_of(with_nozzle(with_part, nozzle)));
    grasps.push_back(std::move(row));
  }
  return grasps;
}

PumpTry tried(const line::Line& line, std::size_t at, const Pumps& asked, const PumpsOptions& options, int segments) {
  PumpTry one;
  const line::Element& pump = line.elements[at];
  one.ejector = pump.kind == line::Kind::ejector;
  one.free_flow = pump.pump->flow.front().value.value * pump.pump->speed.value;
  one.deepest = pump.pump->flow.back().vacuum.value;
  const auto open = solve::steady(line, solve::all_tips(line, solve::TipState::open));
  const auto with_part = solve::steady(line, solve::usual_tips(line));
  one.vacuum_open = weakest_vacuum(open);
  one.vacuum_part = weakest_vacuum(with_part);
  one.vacuum_blocked = weakest_vacuum(solve::steady(line, solve::all_tips(line, solve::TipState::blocked)));
  one.flow = with_part.elements[at].flow;
  one.current_open = current_of(line, at, open);
  one.current_part = current_of(line, at, with_part);
  one.margin = margin_of(line);
  // It settles as `rise` has it, and has what the moves need where the margin is judged, at the widest gap.
  const PartTimes times = part_times(line, asked.needs, segments);
  one.settle = times.settle;
  one.reach = times.reach;
  one.duty = pump_duty(line::at_widest_gap(line), asked.needs, at);
  if (!one.ejector) {
    line::Line sagging = line;
    sagging.elements[at].pump->speed = pump.pump->speed.value * laws::flow_at_supply(asked.supply).factor;
    one.margin_sagging = margin_of(sagging);
  }
  one.margin_high = margin_of(line::carried_to(line, asked.high_pressure));
  one.grasps = matrix(line, options);
  if (one.margin < 0.0) one.troubles.emplace_back("it does not hold the part");
  if (line.cycle) {
    CycleOptions quick;
    quick.limits = false;
    quick.samples = 2;
    if (!cycle(line, quick).works()) one.troubles.emplace_back("the cycle does not get its vacuum in time");
  }
  return one;
}

}  // namespace

std::size_t pump_at(const line::Line& line, const std::string& name) {
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].pump && (name.empty() || line.elements[i].name == name)) return i;
  throw BadInput({line.file, 0, 0}, name.empty() ? std::string("the line has no pump to exchange.")
                                                 : fmt::format("--at: '{}' is no pump of the line.", name));
}

line::Line with_pump(const line::Line& line, std::size_t at, const line::Element& pump) {
  line::Line changed = line;
  line::Element& there = changed.elements.at(at);
  there.kind = pump.kind;
  there.pump = pump.pump;
  there.volume = pump.volume;
  there.leaks = pump.leaks;
  return changed;
}

Pumps pumps(const line::Line& line, const PumpsOptions& options) {
  line::topology(line);  // complains of a line without a nozzle
  Pumps result;
  result.element = pump_at(line, options.at);
  result.supply = options.supply;
  result.high_pressure = gas::pressure_at_altitude(options.altitude);
  result.needs = needs_of_moves(line);
  result.time = time_allowed(line);
  result.parts = {line.part->name};
  for (const line::Part& part : options.parts) result.parts.push_back(part.name);
  const auto nozzles = line::all_of(line, line::Kind::nozzle);
  result.nozzles = {nozzles.size() == 1 ? line.elements[nozzles.front()].name : "the line's own"};
  for (const line::Element& nozzle : options.nozzles) result.nozzles.push_back(nozzle.name);

  // What holding takes for granted, every margin here does.
  result.notes = hold(line).notes;

  // As many pieces as the line's own pull-down takes, so that it settles here when rise has it settle.
  const int segments = rise(line, solve::usual_tips(line), {{}, 2}).segments;
  result.tries.push_back(tried(line, result.element, result, options, segments));
  result.tries.back().name = line.elements[result.element].name;
  result.tries.back().own = true;
  for (const line::Element& pump : options.stock) {
    result.tries.push_back(tried(with_pump(line, result.element, pump), result.element, result, options, segments));
    result.tries.back().name = pump.name;
  }
  for (std::size_t i = 0; i < result.tries.size(); ++i)
    if (result.tries[i].does() &&
        (!result.smallest || result.tries[i].free_flow < result.tries[*result.smallest].free_flow))
      result.smallest = i;

  result.why_not_closed = line::why_not_closed(line);
  const auto point =
      result.why_not_closed.empty() ? required_to_hold(line, result.element, result.needs) : std::nullopt;
  result.hold_possible = point.has_value();
  if (!point) return result;
  result.hold = *point;
  const double here = line.site.pressure / gas::standard_pressure;
  result.hold_here = {point->vacuum * here, point->flow * here * laws::reading_temperature / line.site.temperature};
  if (result.time) {
    result.speed_for_time = required_in_time(line, result.element, result.needs, *result.time, segments);
    if (!result.speed_for_time) return result;
  }
  result.required = required_curve(result.hold, result.speed_for_time);
  return result;
}

}  // namespace airtally::study
