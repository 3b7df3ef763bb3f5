#include "study/cycle_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace airtally::study {
namespace {

using line::none;

/// The valve that a nozzle hangs on: the first one on the way to the pump.
std::size_t valve_of(const line::Line& line, const line::Topology& topology, std::size_t nozzle) {
  for (std::size_t i = topology.before[nozzle]; i != none; i = topology.before[i])
    if (line.elements[i].kind == line::Kind::valve) return i;
  return none;
}

std::string ms(double seconds) { return fmt::format("{:g} ms", 1e3 * seconds); }

/// Complains unless `later` is not before `earlier`.
void in_order(const line::Cycle& cycle, const char* earlier_key, double earlier, const char* later_key, double later) {
  if (later >= earlier) return;
  throw BadInput(
      cycle.where,
      fmt::format("[cycle]: {} = {} is before {} = {}; a pick goes touch, lift, travel, place, retract, with "
                  "valve-on before the lift and release after it.",
                  later_key, ms(later), earlier_key, ms(earlier)));
}

HeadPlan head_plan(const line::Line& line, const line::Cycle& cycle, double delay, double period) {
  HeadPlan head;
  const auto at = [&](const line::Quantity& q) { return q.value + delay; };
  head.valve_on = at(cycle.valve_on);
  head.touch = at(cycle.touch);
  const double height = std::max(0.0, cycle.approach_height.value - (line.part ? line.part->gap.value : 0.0));
  // A stretch that would begin before the cycle begins with it, at the gap that it has then.
  head.approach = std::max(delay, head.touch - height / cycle.approach_speed.value);
  head.place = at(cycle.place);
  if (cycle.lift) head.lift = at(*cycle.lift);
  if (cycle.travel) head.travel = at(*cycle.travel);
  head.release = cycle.release ? at(*cycle.release) : head.place;
  head.retract = cycle.retract ? at(*cycle.retract) : period + delay;
  if (cycle.vent_time) head.vent_end = head.release + cycle.vent_time->value;
  return head;
}

/// Without a period a cycle ends well after its last moment.
double period_of(const line::Cycle& cycle) {
  if (cycle.period) return cycle.period->value;
  double last = std::max(cycle.place.value, cycle.release ? cycle.release->value : 0.0);
  if (cycle.vent_time) last += cycle.vent_time->value;
  if (cycle.retract) last = std::max(last, cycle.retract->value);
  return last + std::max(0.1, 0.25 * last);
}

void check_order(const line::Cycle& cycle, double period) {
  in_order(cycle, "touch", cycle.touch.value, "place", cycle.place.value);
  if (cycle.lift) {
    in_order(cycle, "touch", cycle.touch.value, "lift", cycle.lift->value);
    in_order(cycle, "lift", cycle.lift->value, "place", cycle.place.value);
  }
  if (cycle.travel) {
    in_order(cycle, cycle.lift ? "lift" : "touch", cycle.lift ? cycle.lift->value : cycle.touch.value, "travel",
             cycle.travel->value);
    in_order(cycle, "travel", cycle.travel->value, "place", cycle.place.value);
  }
  // The valve may be told to open once the nozzle is down, and to let go ahead of the place by what it takes to do so;
  // but a part is lifted with the valve told to open and not yet told to let go.
  const double release = cycle.release ? cycle.release->value : cycle.place.value;
  const char* lifted = cycle.lift ? "lift" : "touch";
  in_order(cycle, lifted, cycle.lift ? cycle.lift->value : cycle.touch.value, "release", release);
  in_order(cycle, "valve-on", cycle.valve_on.value, "release", release);
  if (cycle.lift)
    in_order(cycle, "valve-on", cycle.valve_on.value, "lift", cycle.lift->value);
  else
    in_order(cycle, "valve-on", cycle.valve_on.value, "place", cycle.place.value);
  if (cycle.pump_off) in_order(cycle, "pump-off", cycle.pump_off->value, "period", period);
  if (cycle.retract) {
    in_order(cycle, "place", cycle.place.value, "retract", cycle.retract->value);
    in_order(cycle, "release", release, "retract", cycle.retract->value);
  }
  in_order(cycle, "place", cycle.place.value, "period", period);
  if (cycle.pump_off) in_order(cycle, "touch", cycle.touch.value, "pump-off", cycle.pump_off->value);
  in_order(cycle, cycle.retract ? "retract" : "release", cycle.retract ? cycle.retract->value : release, "period",
           period);
}

void check_valves(const line::Line& line, const std::vector<HeadPlan>& heads, double period) {
  for (const HeadPlan& head : heads) {
    if (!line.cycle->period || head.valve == none) continue;
    const line::Valve own = line.elements[head.valve].valve.value_or(line::Valve{});
    const double closes = head.release + own.closes.value, opens = period + head.valve_on + own.opens.value;
    if (closes < opens) continue;
    throw BadInput(
        line.cycle->where,
        fmt::format("[cycle]: valve '{}' closes at {} but is to open again for the next pick at {}; give the "
                    "period more time or release sooner.",
                    line.elements[head.valve].name, ms(closes), ms(opens)));
  }
  for (const HeadPlan& a : heads)
    for (const HeadPlan& b : heads)
      if (a.valve != none && a.valve == b.valve && a.valve_on != b.valve_on)
        throw BadInput(
            line.cycle->where,
            fmt::format("[cycle]: nozzles '{}' and '{}' hang on the same valve '{}' and can't have different delays.",
                        line.elements[a.nozzle].name, line.elements[b.nozzle].name, line.elements[a.valve].name));
}

}  // namespace

Plan plan(const line::Line& line, const line::Topology& topology, int repeats) {
  if (!line.cycle)
    throw BadInput({line.file, 0, 0},
                   "the file has no [cycle]; add one with touch and place, such as touch = \"40 ms\".");
  if (!line.part)
    throw BadInput({line.file, 0, 0}, "a cycle picks a part, but the file has no [part]; add one with mass and gap.");
  const line::Cycle& cycle = *line.cycle;
  Plan plan;
  plan.period = period_of(cycle);
  check_order(cycle, plan.period);
  plan.repeats = cycle.period ? repeats : 1;

  for (const line::HeadSchedule& own : cycle.heads) {
    const auto named = line::find(line, own.nozzle);
    if (!named || line.elements[*named].kind != line::Kind::nozzle)
      throw BadInput(own.where,
                     fmt::format("[[cycle.head]]: '{}' is not the name of a nozzle of this line.", own.nozzle));
  }
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  double longest_delay = 0.0;
  for (std::size_t k = 0; k < nozzles.size(); ++k) {
    double delay = 0.0;
    for (const line::HeadSchedule& own : cycle.heads)
      if (own.nozzle == line.elements[nozzles[k]].name) delay = own.delay.value;
    longest_delay = std::max(longest_delay, delay);
    HeadPlan head = head_plan(line, cycle, delay, plan.period);
    head.nozzle = nozzles[k];
    head.nozzle_index = k;
    head.valve = valve_of(line, topology, nozzles[k]);
    head.seat = line::seat_of(line, nozzles[k]);
    // A head without a valve is let go by stopping the source.
    if (head.valve == none && cycle.pump_off && !cycle.release) head.release = cycle.pump_off->value;
    plan.heads.push_back(head);
  }
  check_valves(line, plan.heads, plan.period);

  // While the last of the delayed heads are followed to their end, the others have begun again, as often as it lags.
  const int begun = plan.repeats + (cycle.period ? static_cast<int>(std::ceil(longest_delay / plan.period)) : 0);
  for (int repeat = 0; repeat < begun; ++repeat) {
    const auto add = [&](double time, Act act, std::size_t head) { plan.events.push_back({time, act, head, repeat}); };
    const double from = repeat * plan.period;
    if (!cycle.pump_always_on) {
      add(from, Act::pump_starts, 0);
      if (cycle.pump_off) add(from + cycle.pump_off->value, Act::pump_stops, 0);
    }
    for (std::size_t h = 0; h < plan.heads.size(); ++h) {
      const HeadPlan& head = plan.heads[h];
      const line::Element* valve = head.valve == none ? nullptr : &line.elements[head.valve];
      const bool first_on_valve =
          valve && std::find_if(plan.heads.begin(), plan.heads.end(), [&](const HeadPlan& other) {
                     return other.valve == head.valve;
                   })->nozzle == head.nozzle;
      if (first_on_valve) {
        const line::Valve own = valve->valve.value_or(line::Valve{});
        add(from + head.valve_on + own.opens.value, Act::valve_opens, h);
        add(from + head.release + own.closes.value, Act::valve_closes, h);
        if (head.vent_end && own.vent) add(from + *head.vent_end + own.closes.value, Act::vent_closes, h);
      }
      if (head.seat != line::Seat::closed) continue;
      add(from + head.approach, Act::approach, h);
      add(from + head.touch, Act::touch, h);
      add(from + head.retract, Act::retract, h);
    }
  }
  std::stable_sort(plan.events.begin(), plan.events.end(),
                   [](const PlannedEvent& a, const PlannedEvent& b) { return a.time < b.time; });
  plan.shown_from = (plan.repeats - 1) * plan.period;
  plan.end = plan.repeats * plan.period + longest_delay;
  return plan;
}

Plan without_part(Plan plan, std::size_t head) {
  plan.heads.at(head).seat = line::Seat::sucked_in;
  std::erase_if(plan.events, [head](const PlannedEvent& e) {
    return e.head == head && (e.act == Act::approach || e.act == Act::touch || e.act == Act::retract);
  });
  return plan;
}

}  // namespace airtally::study
